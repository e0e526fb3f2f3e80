package photo

import (
	"image"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/datamatrix"
	"github.com/makiuchi-d/gozxing/oned"
	"github.com/makiuchi-d/gozxing/qrcode"
)

// ean13 draws a code by the tables of the GS1 General Specifications, section
// 5.2 (number sets A, B and C, and the parity of the left half).
func ean13(digits string) []bool {
	a := []string{"0001101", "0011001", "0010011", "0111101", "0100011", "0110001", "0101111", "0111011", "0110111", "0001011"}
	parity := []string{"AAAAAA", "AABABB", "AABBAB", "AABBBA", "ABAABB", "ABBAAB", "ABBBAA", "ABABAB", "ABABBA", "ABBABA"}
	bits := "101"
	for i := 1; i <= 6; i++ {
		set := a[digits[i]-'0']
		if parity[digits[0]-'0'][i-1] == 'B' {
			set = reverse(invert(set))
		}
		bits += set
	}
	bits += "01010"
	for i := 7; i <= 12; i++ {
		bits += invert(a[digits[i]-'0'])
	}
	bits += "101"
	out := make([]bool, len(bits))
	for i := range bits {
		out[i] = bits[i] == '1'
	}
	return out
}

func invert(s string) string {
	b := []byte(s)
	for i := range b {
		b[i] ^= 1 // '0' and '1' differ in the last bit
	}
	return string(b)
}

func reverse(s string) string {
	b := []byte(s)
	for i, j := 0, len(b)-1; i < j; i, j = i+1, j-1 {
		b[i], b[j] = b[j], b[i]
	}
	return string(b)
}

// sticker draws modules on a page with room around them.
func sticker(w, h, module int, black func(x, y int) bool) *image.Gray {
	page := image.NewGray(image.Rect(0, 0, (w+24)*module, (h+24)*module))
	for y := range page.Rect.Dy() {
		for x := range page.Rect.Dx() {
			v := uint8(235)
			mx, my := x/module-12, y/module-12
			if mx >= 0 && my >= 0 && mx < w && my < h && black(mx, my) {
				v = 30
			}
			page.Pix[y*page.Stride+x] = v
		}
	}
	return page
}

func matrix(t *testing.T, w gozxing.Writer, f gozxing.BarcodeFormat, text string, flat bool) *image.Gray {
	t.Helper()
	m, err := w.Encode(text, f, 0, 0, map[gozxing.EncodeHintType]interface{}{gozxing.EncodeHintType_MARGIN: 0})
	if err != nil {
		t.Fatal(err)
	}
	h := m.GetHeight()
	if flat {
		h = 40
	}
	module := 4
	if !flat {
		module = 8
	}
	return sticker(m.GetWidth(), h, module, func(x, y int) bool { return m.Get(x, y%m.GetHeight()) })
}

type specimen struct {
	format Format
	text   string
	page   *image.Gray
}

// specimens has one of each kind. The EAN-13 is drawn by the published tables;
// the others by the library's writers, so for those this tests the whole way
// from picture to text, not the tables of the code.
func specimens(t *testing.T) []specimen {
	bars := ean13("4006381333931") // the check digit is 1: 4+0·3+0+6·3+3+8·3+1+3·3+3+3·3+9+3·3 = 89
	line := func(x, _ int) bool { return bars[x] }
	zero := ean13("0036000291452") // the GTIN-12 036000291452
	return []specimen{
		{EAN13, "4006381333931", sticker(95, 40, 4, line)},
		{UPCA, "036000291452", sticker(95, 40, 4, func(x, _ int) bool { return zero[x] })},
		{Code128, "LOT-7H2043", matrix(t, oned.NewCode128Writer(), gozxing.BarcodeFormat_CODE_128, "LOT-7H2043", true)},
		{ITF, "14006381333938", matrix(t, oned.NewITFWriter(), gozxing.BarcodeFormat_ITF, "14006381333938", true)},
		{QR, "serial 00421-B", matrix(t, qrcode.NewQRCodeWriter(), gozxing.BarcodeFormat_QR_CODE, "serial 00421-B", false)},
		{DataMatrix, "KIT0099812", matrix(t, datamatrix.NewDataMatrixWriter(), gozxing.BarcodeFormat_DATA_MATRIX, "KIT0099812", false)},
	}
}

func reads(t *testing.T, s specimen, img image.Image) (right, wrong bool) {
	for _, c := range Codes(img) {
		if c.Format == s.format && c.Text == s.text {
			right = true
		} else {
			wrong = true
			t.Logf("%s %q was read as %s %q", s.format, s.text, c.Format, c.Text)
		}
	}
	return right, wrong
}

func TestCleanPictures(t *testing.T) {
	turns := []float64{0, 90, 180, 270}
	if underRace {
		turns = turns[1:2]
	}
	for _, s := range specimens(t) {
		for _, deg := range turns {
			if right, wrong := reads(t, s, rotate(s.page, deg)); !right || wrong {
				t.Errorf("%s at %g°: right %v, wrong %v", s.format, deg, right, wrong)
			}
		}
	}
}

// noisy adds grain of the given spread.
func noisy(in *image.Gray, spread float64, r *rand.Rand) *image.Gray {
	out := image.NewGray(in.Rect)
	for i, v := range in.Pix {
		out.Pix[i] = uint8(min(max(float64(v)+r.NormFloat64()*spread, 0), 255))
	}
	return out
}

// dimmed lights the page unevenly, as a lamp at one side does.
func dimmed(in *image.Gray) *image.Gray {
	out := image.NewGray(in.Rect)
	w := in.Rect.Dx()
	for i, v := range in.Pix {
		out.Pix[i] = uint8(float64(v) * (0.35 + 0.65*float64(i%w)/float64(w)))
	}
	return out
}

// TestReadRate spoils each specimen in many ways and reports how many are read.
// No wrong text may ever come of it; the least share is what a household would
// still call working, common practice, no source.
func TestReadRate(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	ways := []struct {
		name  string
		least int // per cent
		spoil func(*image.Gray) *image.Gray
	}{
		{"turned a little", 95, func(g *image.Gray) *image.Gray { return rotate(g, r.Float64()*16-8) }},
		{"turned any way", 60, func(g *image.Gray) *image.Gray { return rotate(g, r.Float64()*360) }},
		{"blurred", 80, func(g *image.Gray) *image.Gray { return smooth(smooth(g, 1), 1+r.IntN(2)) }},
		{"noisy", 80, func(g *image.Gray) *image.Gray { return noisy(g, 20+r.Float64()*15, r) }},
		{"lit from one side", 80, func(g *image.Gray) *image.Gray { return noisy(dimmed(g), 6, r) }},
		{"turned, blurred and noisy", 60, func(g *image.Gray) *image.Gray {
			return noisy(smooth(rotate(g, r.Float64()*16-8), 1), 12, r)
		}},
	}
	each := 3
	if underRace {
		each = 1
	}
	for _, way := range ways {
		read, all := 0, 0
		for _, s := range specimens(t) {
			for range each {
				right, wrong := reads(t, s, way.spoil(s.page))
				if wrong {
					t.Errorf("%s, %s: a wrong code was read", s.format, way.name)
				}
				if all++; right {
					read++
				}
			}
		}
		t.Logf("%-26s %d of %d read (%d %%)", way.name, read, all, 100*read/all)
		if 100*read < way.least*all {
			t.Errorf("%s: %d of %d read, want %d %%", way.name, read, all, way.least)
		}
	}
}

// TestNothingThere looks at pictures without any code.
func TestNothingThere(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	for i := range 6 {
		g := image.NewGray(image.Rect(0, 0, 400, 300))
		for j := range g.Pix {
			g.Pix[j] = uint8(r.IntN(256))
		}
		if cs := Codes(smooth(g, i%3+1)); len(cs) > 0 {
			t.Errorf("picture %d: %v read from noise", i, cs)
		}
	}
}

func BenchmarkRead(b *testing.B) {
	bars := ean13("4006381333931")
	page := sticker(95, 40, 4, func(x, _ int) bool { return bars[x] })
	for b.Loop() {
		if len(Codes(page)) == 0 {
			b.Fatal("not read")
		}
	}
}

// TestSticker reads a picture made once and kept; testdata/images tells how.
func TestSticker(t *testing.T) {
	data, err := os.ReadFile("../../testdata/images/sticker.jpg")
	if err != nil {
		t.Fatal(err)
	}
	p, err := Read(data)
	if err != nil || len(p.Codes) != 1 || p.Codes[0] != (Code{EAN13, "2004711000425"}) {
		t.Errorf("read %v, %v", p.Codes, err)
	}
}
