// Package photo looks at the pictures that people send: it bounds them before it
// decodes them, makes the copy that is kept, and reads the barcode of a kit's
// sticker. It is pure: bytes in, bytes and text out.
//
//   - photo.go: bounds, decoding, the kept copy
//   - orient.go: the camera's note of which way is up
//   - prepare.go: grey pictures, scaled, turned and smoothed for reading
//   - barcode.go: what is tried in which order, and what is believed
package photo
