package photo

import (
	"encoding/binary"
	"image"
	"image/color"
)

// orientation reads tag 0x0112 of a JPEG's Exif block: 1 to 8, 1 where there is
// none (CIPA DC-008, Exif 2.3, section 4.6.4 and table 6).
func orientation(data []byte) int {
	tiff := exif(data)
	if len(tiff) < 8 {
		return 1
	}
	var order binary.ByteOrder = binary.BigEndian
	if tiff[0] == 'I' {
		order = binary.LittleEndian
	}
	at := int(order.Uint32(tiff[4:]))
	if at < 8 || at+2 > len(tiff) {
		return 1
	}
	n := int(order.Uint16(tiff[at:]))
	for i := range n {
		e := at + 2 + 12*i
		if e+12 > len(tiff) {
			return 1
		}
		if order.Uint16(tiff[e:]) == 0x0112 {
			if v := int(order.Uint16(tiff[e+8:])); v >= 1 && v <= 8 {
				return v
			}
			return 1
		}
	}
	return 1
}

// exif finds the TIFF part of the APP1 segment before the picture data.
func exif(data []byte) []byte {
	if len(data) < 4 || data[0] != 0xFF || data[1] != 0xD8 {
		return nil
	}
	for i := 2; i+4 <= len(data) && data[i] == 0xFF && data[i+1] != 0xDA; {
		size := int(binary.BigEndian.Uint16(data[i+2:]))
		end := i + 2 + size
		if size < 2 || end > len(data) {
			return nil
		}
		body := data[i+4 : end]
		if data[i+1] == 0xE1 && len(body) > 6 && string(body[:6]) == "Exif\x00\x00" {
			return body[6:]
		}
		i = end
	}
	return nil
}

// turned is a picture seen through one of the eight orientations.
type turned struct {
	image.Image
	how int
}

// upright shows img as it was meant.
func upright(img image.Image, how int) image.Image {
	if how == 1 {
		return img
	}
	return turned{img, how}
}

// Bounds swaps the sides for orientations 5 to 8.
func (t turned) Bounds() image.Rectangle {
	b := t.Image.Bounds()
	if t.how >= 5 {
		return image.Rect(0, 0, b.Dy(), b.Dx())
	}
	return image.Rect(0, 0, b.Dx(), b.Dy())
}

// At finds the stored pixel shown at x, y.
func (t turned) At(x, y int) color.Color {
	b := t.Image.Bounds()
	w, h := b.Dx()-1, b.Dy()-1
	switch t.how {
	case 2:
		x = w - x
	case 3:
		x, y = w-x, h-y
	case 4:
		y = h - y
	case 5:
		x, y = y, x
	case 6:
		x, y = y, h-x
	case 7:
		x, y = w-y, h-x
	case 8:
		x, y = w-y, x
	}
	return t.Image.At(b.Min.X+x, b.Min.Y+y)
}
