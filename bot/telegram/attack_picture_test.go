package telegram

import (
	"bytes"
	"compress/zlib"
	"context"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/gif"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"
	"time"

	"mustbook/bot/photo"
	"mustbook/bot/telegram/loopback"
	"mustbook/store"
)

// chunk is a part of a PNG file: length, name, data, checksum (PNG, 3rd edition,
// section 5.3).
func chunk(name string, data []byte) []byte {
	out := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
	out = append(append(out, name...), data...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[4:]))
}

// bomb is a grey PNG of w × h pixels of nothing, tiny as a file (section 11.2.1:
// width, height, 8 bits, grey).
func bomb(w, h uint32) []byte {
	head := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, w), h)
	var z bytes.Buffer
	zw, _ := zlib.NewWriterLevel(&z, zlib.BestCompression)
	row := make([]byte, min(w, 1<<20)+1)
	for range min(h, 4<<20/uint32(len(row))+1) { // more is never read
		zw.Write(row)
	}
	zw.Close()
	out := append([]byte("\x89PNG\r\n\x1a\n"), chunk("IHDR", append(head, 8, 0, 0, 0, 0))...)
	return append(append(out, chunk("IDAT", z.Bytes())...), chunk("IEND", nil)...)
}

func encoded(write func(b *bytes.Buffer, img image.Image) error) []byte {
	img := image.NewRGBA(image.Rect(0, 0, 300, 200))
	for i := range img.Pix {
		img.Pix[i] = byte(i * 7)
	}
	var b bytes.Buffer
	if err := write(&b, img); err != nil {
		panic(err)
	}
	return b.Bytes()
}

// hostilePictures are files that somebody may send as a photo.
func hostilePictures() map[string][]byte {
	jpg := encoded(func(b *bytes.Buffer, img image.Image) error { return jpeg.Encode(b, img, nil) })
	pg := encoded(func(b *bytes.Buffer, img image.Image) error { return png.Encode(b, img) })
	gf := encoded(func(b *bytes.Buffer, img image.Image) error { return gif.Encode(b, img, nil) })
	return map[string][]byte{
		"a bomb of 1.6 gigapixels":  bomb(40_000, 40_000),
		"a bomb just over the line": bomb(6400, 6251),
		"a line of a million":       bomb(1_000_000, 1),
		"a side of 2^31-1":          bomb(1<<31-1, 1),
		"no pixels":                 bomb(0, 0),
		"a cut JPEG":                jpg[:len(jpg)/2],
		"a JPEG's first bytes":      jpg[:3],
		"a cut PNG":                 pg[:len(pg)-40],
		"a cut GIF":                 gf[:len(gf)/2],
		"a JPEG with holes":         bytes.ReplaceAll(jpg, jpg[400:404], []byte{0xff, 0xd8, 0xff, 0xe1}),
		"a PNG named JPEG":          append([]byte{0xff, 0xd8}, pg...),
		"an SVG":                    []byte(`<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>`),
		"a page":                    []byte("<html><body onload=alert(1)>"),
		"a program":                 []byte("\x7fELF\x02\x01\x01" + strings.Repeat("\x00", 500)),
		"an archive":                []byte("PK\x03\x04" + strings.Repeat("\x00", 500)),
		"nothing":                   {},
		"noise":                     bytes.Repeat([]byte{0x89, 0x50, 0x4e, 0x47, 7, 3}, 5000),
		"more than may be fetched":  make([]byte, photo.MaxBytes+1),
		"an orientation that lies":  append([]byte{0xff, 0xd8, 0xff, 0xe1, 0xff, 0xff, 'E', 'x', 'i', 'f'}, jpg[2:]...),
	}
}

// TestHostilePicturesThroughThePlatform: each ends, none is kept as it came, the
// caption's reading is kept, and the next picture is read.
func TestHostilePicturesThroughThePlatform(t *testing.T) {
	r := newCellar(t, loopback.Options{})
	files, looked := hostilePictures(), make(chan bool, 100)
	handle := r.cfg.Pictured
	r.cfg.Pictured = func(ctx context.Context, tx *store.Tx, p store.Photo, code, format string) error {
		defer func() { looked <- true }()
		return handle(ctx, tx, p, code, format)
	}
	r.start()
	nora, c := r.damson()
	for what, file := range files {
		r.clock.add(time.Hour)
		before := strings.Count(r.entries(), " ph ")
		small(t, what, r.hear(nora, c, "#1 ph 3.41", loopback.Said{Photo: file}).Text)
		if got := strings.Count(r.entries(), " ph "); got != before+1 {
			t.Errorf("%s: its caption became %d entries", what, got-before)
		}
	}
	var good bytes.Buffer
	png.Encode(&good, image.NewGray(image.Rect(0, 0, 64, 48)))
	r.clock.add(time.Hour)
	r.hear(nora, c, "note the last one", loopback.Said{Photo: good.Bytes()})
	for range len(files) + 1 {
		select {
		case <-looked:
		case <-t.Context().Done():
			t.Fatal("a picture was never looked at")
		}
	}
	r.stop()
	err := r.db.View(t.Context(), func(tx *store.Tx) error {
		if todo, err := tx.PhotosToFetch(50); err != nil || len(todo) > 0 {
			t.Errorf("%d pictures would be fetched for ever, %v", len(todo), err)
		}
		ps, err := tx.Photos(1, 0)
		for i, p := range ps {
			if last := i == len(ps)-1; last && len(p.JPEG) == 0 {
				t.Error("a good picture after them is not kept")
			}
			if len(p.JPEG) > 0 {
				cfg, err := jpeg.DecodeConfig(bytes.NewReader(p.JPEG))
				if err != nil || max(cfg.Width, cfg.Height) > photo.KeptSide {
					t.Errorf("picture %d is kept as %v, %v", i, cfg, err)
				}
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}
