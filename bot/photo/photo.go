package photo

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	_ "image/gif" // what people send
	"image/jpeg"
	_ "image/png"
)

// Bounds of what is decoded, and of what is kept.
const (
	MaxBytes  = 20 << 20   // the platform lets a bot fetch no more
	MaxPixels = 40_000_000 // a decoded pixel takes up to 4 bytes, see weight
	KeptSide  = 1600       // longer side of the kept copy
	quality   = 82
)

// What can be wrong with a picture.
var (
	ErrTooLarge = errors.New("picture over 20 MB")
	ErrTooMany  = errors.New("picture over 40 megapixels")
	ErrUnknown  = errors.New("not a picture that can be read")
)

// Picture is a photo made fit to be kept.
type Picture struct {
	JPEG          []byte // at most KeptSide pixels a side, without metadata
	Width, Height int    // of JPEG
	Codes         []Code // barcodes found; none is no error
}

// Read checks the bounds, decodes a JPEG, PNG or GIF, turns it the right way up,
// makes the kept copy and looks for barcodes. Errors: ErrTooLarge, ErrTooMany
// (before anything is decoded) and ErrUnknown.
func Read(data []byte) (Picture, error) {
	img, err := decode(data)
	if err != nil {
		return Picture{}, err
	}
	img = upright(img, orientation(data))
	small := shrink(img, KeptSide)
	var out bytes.Buffer
	if err := jpeg.Encode(&out, small, &jpeg.Options{Quality: quality}); err != nil {
		return Picture{}, fmt.Errorf("keep picture: %w", err)
	}
	b := small.Bounds()
	return Picture{JPEG: out.Bytes(), Width: b.Dx(), Height: b.Dy(), Codes: Codes(small)}, nil
}

// decode looks at the header first: a small file can claim a huge picture.
func decode(data []byte) (image.Image, error) {
	if len(data) > MaxBytes {
		return nil, ErrTooLarge
	}
	head, _, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("%w: %v", ErrUnknown, err)
	}
	if head.Width <= 0 || head.Height <= 0 {
		return nil, ErrUnknown
	}
	if int64(head.Width)*int64(head.Height) > MaxPixels || weight(data, head) > maxDecoded {
		return nil, ErrTooMany
	}
	img, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("%w: %v", ErrUnknown, err)
	}
	return img, nil
}

// shrink gives img itself where it is small enough, else the mean of the pixels
// that fall into each pixel of the copy.
func shrink(img image.Image, side int) image.Image {
	b := img.Bounds()
	w, h := fit(b.Dx(), b.Dy(), side)
	if w == b.Dx() && h == b.Dy() {
		return img
	}
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		y0, y1 := b.Min.Y+y*b.Dy()/h, b.Min.Y+(y+1)*b.Dy()/h
		for x := range w {
			x0, x1 := b.Min.X+x*b.Dx()/w, b.Min.X+(x+1)*b.Dx()/w
			r, g, bl := mean(img, x0, y0, x1, y1)
			i := out.PixOffset(x, y)
			out.Pix[i], out.Pix[i+1], out.Pix[i+2], out.Pix[i+3] = r, g, bl, 255
		}
	}
	return out
}

// fit scales w × h so that the longer side is at most side.
func fit(w, h, side int) (int, int) {
	long := max(w, h)
	if long <= side {
		return w, h
	}
	return max(1, w*side/long), max(1, h*side/long)
}

// mean is the average colour of a rectangle of pixels.
func mean(img image.Image, x0, y0, x1, y1 int) (r, g, b uint8) {
	var sr, sg, sb, n uint64
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			pr, pg, pb, _ := img.At(x, y).RGBA()
			sr, sg, sb, n = sr+uint64(pr), sg+uint64(pg), sb+uint64(pb), n+1
		}
	}
	return uint8(sr / n >> 8), uint8(sg / n >> 8), uint8(sb / n >> 8)
}
