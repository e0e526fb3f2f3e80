package report

import (
	"io"
	"time"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"codeberg.org/go-pdf/fpdf"

	"mustbook/bot/letters"
)

// Sizes of paper in millimetres, and the edge that any printer leaves white.
const (
	a4Width, a4Height         = 210.0, 297.0
	letterWidth, letterHeight = 215.9, 279.4
	edge                      = 15.0
)

// paper is a document being written. Lengths are in millimetres from the upper
// left, sizes of letters in points.
type paper struct {
	pdf    *fpdf.Fpdf
	width  float64
	height float64
}

// newPaper opens a document without a page. Its dates are set, so that the same
// content gives the same bytes.
func newPaper(letter bool, title string, at time.Time, packed bool) *paper {
	p := &paper{width: a4Width, height: a4Height}
	if letter {
		p.width, p.height = letterWidth, letterHeight
	}
	p.pdf = fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: p.width, Ht: p.height}})
	p.pdf.SetCompression(packed)
	p.pdf.SetCatalogSort(true)
	p.pdf.SetCreationDate(at.UTC())
	p.pdf.SetModificationDate(at.UTC())
	p.pdf.SetTitle(title, true)
	p.pdf.SetAutoPageBreak(false, 0)
	p.pdf.SetMargins(edge, edge, edge)
	p.pdf.SetCellMargin(0)
	p.pdf.AddUTF8FontFromBytes("sans", "", liberationsansregular.TTF)
	p.pdf.AddUTF8FontFromBytes("sans", "B", liberationsansbold.TTF)
	p.pdf.SetLineWidth(0.2)
	return p
}

// write ends the document.
func (p *paper) write(w io.Writer) error { return p.pdf.Output(w) }

// font sets letters: bold or not, in points.
func (p *paper) font(bold bool, size float64) {
	style := ""
	if bold {
		style = "B"
	}
	p.pdf.SetFont("sans", style, size)
}

// put sets one line with its left end at x and its foot on y, cut to a width.
func (p *paper) put(x, y, width float64, s string) {
	if s != "" {
		p.pdf.Text(x, y, p.cut(s, width))
	}
}

// centre sets one line around x.
func (p *paper) centre(x, y, width float64, s string) {
	s = p.cut(s, width)
	p.pdf.Text(x-p.pdf.GetStringWidth(s)/2, y, s)
}

// cut makes a text printable and shortens it until it fits.
func (p *paper) cut(s string, width float64) string {
	const longest = 400 // bounds the work for a name that fills a message
	r := []rune(letters.Printable(s, longest))
	if p.pdf.GetStringWidth(string(r)) <= width {
		return string(r)
	}
	for len(r) > 0 && p.pdf.GetStringWidth(string(r)+"…") > width {
		r = r[:len(r)-1]
	}
	return string(r) + "…"
}

// wrap breaks a text into lines of a width, at most n; the last says where more
// was.
func (p *paper) wrap(s string, width float64, n int) []string {
	const longest = 2000 // letters: more than a page of the sheet holds of one note
	lines := p.pdf.SplitText(letters.Printable(s, longest), width)
	if len(lines) > n {
		lines = append(lines[:n-1:n-1], lines[n-1]+" …")
	}
	return lines
}

// rule draws a thin line.
func (p *paper) rule(x0, y0, x1, y1 float64) { p.pdf.Line(x0, y0, x1, y1) }
