package photo

import (
	"encoding/binary"
	"image"
	"image/color"
)

// maxDecoded is the memory that decoding may take.
const maxDecoded = 4 * MaxPixels

// weight is about how many bytes the standard decoders take for a picture: four a
// pixel, eight where a PNG has sixteen bits a channel, and for a progressive JPEG
// every coefficient as an int32 beside the samples. Such a JPEG of forty megapixels
// may be a file of a few hundred kilobytes.
func weight(data []byte, head image.Config) int64 {
	pixels := int64(head.Width) * int64(head.Height)
	switch head.ColorModel {
	case color.RGBA64Model, color.NRGBA64Model:
		return 8 * pixels
	}
	return max(4*pixels, pixels*progressive(data)/100)
}

// progressive is a hundred times the bytes a pixel of a progressive JPEG, 0 for
// anything else. The frame header holds the sampling of each component (ITU-T T.81,
// B.2.2).
func progressive(data []byte) int64 {
	const sof2, sos = 0xc2, 0xda
	if len(data) < 4 || data[0] != 0xff || data[1] != 0xd8 {
		return 0
	}
	for i := 2; i+4 <= len(data); {
		if data[i] != 0xff {
			i++ // padding between segments
			continue
		}
		marker := data[i+1]
		if marker == 0xff || marker == 0 || marker == 1 || marker >= 0xd0 && marker <= 0xd9 {
			i++ // fill bytes and markers without a length
			continue
		}
		size := int(binary.BigEndian.Uint16(data[i+2:]))
		if marker == sos || size < 2 || i+2+size > len(data) {
			return 0
		}
		if marker == sof2 {
			return sampled(data[i+4 : i+2+size])
		}
		i += 2 + size
	}
	return 0
}

// sampled reads a frame header after its length.
func sampled(frame []byte) int64 {
	if len(frame) < 6 {
		return 0
	}
	var blocks, widest, highest int64
	for c := frame[6:]; len(c) >= 3; c = c[3:] {
		h, v := int64(c[1]>>4), int64(c[1]&15)
		blocks, widest, highest = blocks+h*v, max(widest, h), max(highest, v)
	}
	if widest*highest == 0 {
		return 0
	}
	const each = 4 + 1 // a coefficient and its sample
	return 100 * each * blocks / (widest * highest)
}
