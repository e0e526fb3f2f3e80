package report

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"
)

// placed is a text of a page: its left end and foot in mm from the upper left.
type placed struct {
	page int
	x, y float64
	size float64 // letters, points
	text string
}

// document is what a test reads back from an unpacked PDF.
type document struct {
	pages         int
	width, height float64 // mm
	texts         []placed
	images        [][4]float64 // x, y of the lower left corner, width, height, mm from the lower left
}

const pointsPerMM = 72 / 25.4

// mustRead takes an unpacked PDF apart: page contents are the streams that set
// text (PDF 32000-1:2008, 9.4), one a page.
func mustRead(t testing.TB, pdf []byte) document {
	t.Helper()
	if !bytes.HasPrefix(pdf, []byte("%PDF-")) || !bytes.HasSuffix(bytes.TrimSpace(pdf), []byte("%%EOF")) {
		t.Fatal("not a PDF from head to foot")
	}
	var d document
	if i := bytes.Index(pdf, []byte("/MediaBox [0 0 ")); i >= 0 {
		var w, h float64
		fmt.Sscanf(string(pdf[i:]), "/MediaBox [0 0 %f %f]", &w, &h)
		d.width, d.height = w/pointsPerMM, h/pointsPerMM
	}
	for _, part := range bytes.Split(pdf, []byte("stream\n"))[1:] {
		end := bytes.Index(part, []byte("endstream"))
		if end < 0 {
			end = len(part)
		}
		body := part[:end]
		if bytes.Contains(body, []byte(" Td ")) {
			d.pages++
			d.read(body)
		}
	}
	return d
}

// read collects the texts and pictures of one page's content.
func (d *document) read(body []byte) {
	size := 0.0
	for len(body) > 0 {
		i := bytes.IndexByte(body, '\n')
		// A line may hold an escaped byte that looks like its end: it ends with " ET".
		if bytes.HasPrefix(body, []byte("BT ")) && !bytes.HasPrefix(body, []byte("BT /F")) {
			if k := bytes.Index(body, []byte(") Tj ET")); k >= 0 {
				i = k + len(") Tj ET")
			}
		} else if k := bytes.Index(body, []byte("BT /F")); k > 0 && i > k {
			i = k - 1
		}
		if i < 0 {
			i = len(body)
		}
		line := string(body[:i])
		body = body[min(i+1, len(body)):]
		var name string
		var w, h, x, y, s float64
		switch {
		case strings.HasPrefix(line, "BT /F"):
			fmt.Sscanf(line, "BT %s %f Tf ET", &name, &s)
			size = s
		case strings.HasPrefix(line, "BT "):
			fmt.Sscanf(line, "BT %f %f Td", &x, &y)
			raw := line[strings.IndexByte(line, '(')+1 : strings.LastIndex(line, ")")]
			d.texts = append(d.texts, placed{d.pages, x / pointsPerMM, d.height - y/pointsPerMM, size, unescape(raw)})
		case strings.Contains(line, " Do Q"):
			if n, _ := fmt.Sscanf(line, "q %f 0 0 %f %f %f cm", &w, &h, &x, &y); n == 4 {
				d.images = append(d.images, [4]float64{x / pointsPerMM, y / pointsPerMM, w / pointsPerMM, h / pointsPerMM})
			}
		}
	}
}

// unescape reads a literal string of two-byte letters (PDF 32000-1:2008, 7.3.4.2).
func unescape(s string) string {
	var raw []byte
	for i := 0; i < len(s); i++ {
		if s[i] == '\\' && i+1 < len(s) {
			i++
			if s[i] == 'r' {
				raw = append(raw, '\r')
				continue
			}
		}
		raw = append(raw, s[i])
	}
	var units []uint16
	for i := 0; i+1 < len(raw); i += 2 {
		units = append(units, uint16(raw[i])<<8|uint16(raw[i+1]))
	}
	return string(utf16.Decode(units))
}

// has finds a text that is, or holds, a part.
func (d document) has(part string) (placed, bool) {
	for _, p := range d.texts {
		if strings.Contains(p.text, part) {
			return p, true
		}
	}
	return placed{}, false
}

func (d document) String() string {
	var b strings.Builder
	for _, p := range d.texts {
		b.WriteString(strconv.Itoa(p.page) + fmt.Sprintf(" %5.1f %5.1f %4.1f %s\n", p.x, p.y, p.size, p.text))
	}
	return b.String()
}
