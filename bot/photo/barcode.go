package photo

import (
	"image"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/datamatrix"
	"github.com/makiuchi-d/gozxing/oned"
	"github.com/makiuchi-d/gozxing/qrcode"
)

// Format names a kind of barcode.
type Format string

// The barcodes that are read.
const (
	EAN13      Format = "EAN-13"
	UPCA       Format = "UPC-A"
	Code128    Format = "Code 128"
	ITF        Format = "ITF"
	QR         Format = "QR"
	DataMatrix Format = "Data Matrix"
)

// Code is a barcode that was read.
type Code struct {
	Format Format
	Text   string
}

// maxText bounds what is taken from a code; a serial is far shorter.
const maxText = 200

// kinds in the order tried: those that check themselves best come first.
var kinds = []struct {
	format Format
	flat   bool // 1-D: its reader takes one threshold a row whatever the binarizer
	reader func() gozxing.Reader
}{
	{QR, false, qrcode.NewQRCodeReader},
	{DataMatrix, false, func() gozxing.Reader { return datamatrix.NewDataMatrixReader() }},
	{EAN13, true, oned.NewEAN13Reader},
	{Code128, true, oned.NewCode128Reader},
	{ITF, true, oned.NewITFReader},
}

// Codes looks for one barcode of each kind, at most; it stops at the first
// preparation of the picture that shows any. The weaker 1-D codes are believed
// only when preparations agree (believed).
func Codes(img image.Image) []Code {
	base, votes := grey(img, readSide), map[string]int{}
	for _, prepare := range preparations {
		if found := read(prepare(base), votes); len(found) > 0 {
			return found
		}
	}
	return nil
}

// readSide is enough for a sticker that fills a third of the picture, and more
// only slows the search.
const readSide = 1200

// preparations from cheap to dear.
var preparations = []func(*image.Gray) *image.Gray{
	func(g *image.Gray) *image.Gray { return g },
	func(g *image.Gray) *image.Gray { return smooth(g, 1) },
	func(g *image.Gray) *image.Gray { return grey(g, 600) },
	func(g *image.Gray) *image.Gray { return level(smooth(g, 1), 40) },
	func(g *image.Gray) *image.Gray { return level(smooth(g, 1), 90) },
	func(g *image.Gray) *image.Gray { return level(g, 60) },
	func(g *image.Gray) *image.Gray { return level(grey(g, 700), 40) },
	func(g *image.Gray) *image.Gray { return sharpen(g, 3) },
	func(g *image.Gray) *image.Gray { return sharpen(smooth(g, 1), 6) },
	turn(20), turn(-20), turn(45), turn(-45), turn(10), turn(-10), turn(32), turn(-32),
	func(g *image.Gray) *image.Gray { return smooth(g, 2) },
	func(g *image.Gray) *image.Gray { return enlarge(grey(g, 700)) },
	func(g *image.Gray) *image.Gray { return sharpen(enlarge(grey(g, 700)), 5) },
}

// turn prepares a picture that was taken at a slant. The grain goes first, for
// turning spreads it.
func turn(deg float64) func(*image.Gray) *image.Gray {
	return func(g *image.Gray) *image.Gray { return rotate(smooth(grey(g, 1000), 1), deg) }
}

// read tries every kind with both ways of telling black from white.
func read(g *image.Gray, votes map[string]int) []Code {
	src := gozxing.NewLuminanceSourceFromImage(g)
	var found []Code
	for _, k := range kinds {
		ways := []gozxing.Binarizer{gozxing.NewGlobalHistgramBinarizer(src)}
		if !k.flat {
			ways = append(ways, gozxing.NewHybridBinarizer(src))
		}
		for _, b := range ways {
			text, seen := try(k.reader(), b)
			if !seen || text == "" || len(text) > maxText {
				continue
			}
			votes[string(k.format)+text]++
			if believed(k.format, text, votes[string(k.format)+text]) {
				found = append(found, name(k.format, text))
				break
			}
		}
	}
	return found
}

// believed asks more of a code the less it checks itself: the 2-D codes correct
// errors; EAN-13 and Code 128 have one check character, which noise meets once in
// ten and once in a hundred, so three preparations must agree. ITF has none, and a
// slanting row reads a part of it as a whole: only the 14-digit trade number,
// which ends with a check digit, is taken.
func believed(f Format, text string, votes int) bool {
	switch f {
	case QR, DataMatrix:
		return true
	case ITF:
		return votes >= 3 && checked14(text)
	}
	return votes >= 3
}

// checked14 tests the check digit of a GTIN-14 (GS1 General Specifications,
// 7.9: weights 3 and 1 from the left, sum a multiple of ten).
func checked14(digits string) bool {
	if len(digits) != 14 {
		return false
	}
	sum := 0
	for i, d := range digits {
		n := int(d - '0')
		if i%2 == 0 {
			n *= 3
		}
		sum += n
	}
	return sum%10 == 0
}

// name tells a UPC-A from the EAN-13 that it is with a zero before it (GS1
// General Specifications: a GTIN-12 is a GTIN-13 with a leading zero).
func name(f Format, text string) Code {
	if f == EAN13 && len(text) == 13 && text[0] == '0' {
		return Code{UPCA, text[1:]}
	}
	return Code{f, text}
}

// try runs one reader; the library may panic on a strange picture.
func try(r gozxing.Reader, b gozxing.Binarizer) (text string, found bool) {
	defer func() {
		if recover() != nil {
			text, found = "", false
		}
	}()
	bmp, err := gozxing.NewBinaryBitmap(b)
	if err != nil {
		return "", false
	}
	res, err := r.Decode(bmp, map[gozxing.DecodeHintType]interface{}{gozxing.DecodeHintType_TRY_HARDER: true})
	if err != nil {
		return "", false
	}
	return res.GetText(), true
}
