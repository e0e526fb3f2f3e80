package photo

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"testing"
)

func mustJPEG(t *testing.T, img image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// claim is a PNG header of the given size with nothing behind it (PNG, 3rd
// edition, section 11.2.1).
func claim(w, h uint32) []byte {
	head := append([]byte("IHDR"), make([]byte, 13)...)
	binary.BigEndian.PutUint32(head[4:], w)
	binary.BigEndian.PutUint32(head[8:], h)
	head[12], head[13] = 8, 0
	out := append([]byte("\x89PNG\r\n\x1a\n"), 0, 0, 0, 13)
	out = append(out, head...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(head))
}

// deep makes a claim one of sixteen bits in each of four channels (section 11.2.1:
// colour type 6).
func deep(png []byte) []byte {
	png[8+8+8], png[8+8+9] = 16, 6
	return binary.BigEndian.AppendUint32(png[:8+8+13], crc32.ChecksumIEEE(png[8+4:8+8+13]))
}

// frame is a JPEG that ends after the header of its frame (ITU-T T.81, B.2.2): three
// components, the first sampled as told, the others once.
func frame(marker byte, w, h uint16, first byte) []byte {
	out := append([]byte{0xff, 0xd8, 0xff, 0xe0, 0, 16}, "JFIF\x00\x01\x01\x00\x00\x01\x00\x01\x00\x00"...)
	out = append(out, 0xff, marker, 0, 17, 8)
	out = binary.BigEndian.AppendUint16(binary.BigEndian.AppendUint16(out, h), w)
	return append(out, 3, 1, first, 0, 2, 0x11, 0, 3, 0x11, 0)
}

func TestBounds(t *testing.T) {
	cases := []struct {
		name string
		data []byte
		want error
	}{
		{"bytes", make([]byte, MaxBytes+1), ErrTooLarge},
		{"pixels", claim(8000, 5001), ErrTooMany},
		{"a side that overflows", claim(1<<31-1, 1<<31-1), ErrUnknown},
		{"at the bound, but empty", claim(8000, 5000), ErrUnknown},
		{"half of it in sixteen bits", deep(claim(5000, 4100)), ErrTooMany},
		{"progressive, full colour", frame(0xc2, 4000, 3000, 0x11), ErrTooMany},
		{"progressive, as phones make it", frame(0xc2, 4000, 3000, 0x22), ErrUnknown}, // within the bound, but empty
		{"baseline", frame(0xc0, 8000, 4900, 0x11), ErrUnknown},
		{"text", []byte("sg 1.048"), ErrUnknown},
		{"nothing", nil, ErrUnknown},
	}
	for _, c := range cases {
		if _, err := Read(c.data); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", c.name, err, c.want)
		}
	}
}

func TestKeptCopyIsSmallAndBare(t *testing.T) {
	img := image.NewRGBA(image.Rect(0, 0, 3200, 1000))
	plain := mustJPEG(t, img)
	secret := "GPS-HOME-ADDRESS"
	tagged := append([]byte{0xFF, 0xD8, 0xFF, 0xE1, 0, byte(2 + 6 + len(secret))}, "Exif\x00\x00"+secret...)
	tagged = append(tagged, plain[2:]...)
	p, err := Read(tagged)
	if err != nil {
		t.Fatal(err)
	}
	if p.Width != 1600 || p.Height != 500 {
		t.Errorf("kept as %d × %d, want 1600 × 500", p.Width, p.Height)
	}
	if bytes.Contains(p.JPEG, []byte(secret)) || bytes.Contains(p.JPEG, []byte("Exif")) {
		t.Error("the kept copy carries metadata")
	}
	if c, err := jpeg.DecodeConfig(bytes.NewReader(p.JPEG)); err != nil || c.Width != 1600 {
		t.Errorf("kept copy: %v %v", c, err)
	}
}

func TestSmallPictureIsNotEnlarged(t *testing.T) {
	var b bytes.Buffer
	png.Encode(&b, image.NewGray(image.Rect(0, 0, 40, 30)))
	if p, err := Read(b.Bytes()); err != nil || p.Width != 40 || p.Height != 30 || len(p.Codes) != 0 {
		t.Errorf("%d × %d, %v, %v", p.Width, p.Height, p.Codes, err)
	}
}

// TestOrientation marks one corner and looks where it is shown. The table is
// Exif 2.3, tag 0x0112: the 0th row and 0th column of each value.
func TestOrientation(t *testing.T) {
	img := image.NewGray(image.Rect(0, 0, 3, 2))
	img.Pix[0] = 255
	want := map[int]image.Point{
		1: {0, 0}, // row 0 top, column 0 left
		2: {2, 0}, // top, right
		3: {2, 1}, // bottom, right
		4: {0, 1}, // bottom, left
		5: {0, 0}, // left, top
		6: {1, 0}, // right, top
		7: {1, 2}, // right, bottom
		8: {0, 2}, // left, bottom
	}
	for how, at := range want {
		up := upright(img, how)
		if c := up.At(at.X, at.Y); c.(color.Gray).Y != 255 {
			t.Errorf("orientation %d: the marked corner is not at %v", how, at)
		}
		if w := up.Bounds().Dx(); (how >= 5) != (w == 2) {
			t.Errorf("orientation %d: width %d", how, w)
		}
	}
}

func TestOrientationOfFile(t *testing.T) {
	tiff := []byte("II*\x00\x08\x00\x00\x00\x01\x00\x12\x01\x03\x00\x01\x00\x00\x00\x06\x00\x00\x00")
	file := append([]byte{0xFF, 0xD8, 0xFF, 0xE1, 0, byte(2 + 6 + len(tiff))}, "Exif\x00\x00"...)
	file = append(file, tiff...)
	if got := orientation(file); got != 6 {
		t.Errorf("orientation %d, want 6", got)
	}
	for n := range file {
		if got := orientation(file[:n]); got != 1 {
			t.Fatalf("cut at %d: orientation %d, want 1", n, got)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte("\xFF\xD8\xFF\xE1\x00\x08Exif\x00\x00"))
	f.Add(claim(10, 10))
	f.Fuzz(func(t *testing.T, data []byte) {
		if p, err := Read(data); err == nil && (len(p.JPEG) == 0 || max(p.Width, p.Height) > KeptSide) {
			t.Errorf("kept %d × %d in %d bytes", p.Width, p.Height, len(p.JPEG))
		}
	})
}
