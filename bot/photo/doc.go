// Package photo looks at the pictures that people send: it bounds them before it
// decodes them, makes the copy that is kept, and reads the barcode of a kit's
// sticker. It is pure: bytes in, bytes and text out.
//
// A sticker is photographed at a slant, in bad light, with a shaking hand. Codes
// therefore looks at a picture in many preparations (smoothed, sharpened, levelled,
// turned, enlarged) from cheap to dear, and stops at the first that shows something
// it can believe. A wrong serial is worse than none: the kinds of code that hardly
// check themselves must be read alike in several preparations.
//
//   - photo.go: bounds, decoding, the kept copy
//   - weight.go: the memory that decoding would take
//   - orient.go: the camera's note of which way is up
//   - prepare.go: grey pictures, scaled, turned and smoothed for reading
//   - barcode.go: what is tried in which order, and what is believed
package photo
