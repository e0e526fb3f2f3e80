package report

import (
	"bytes"
	"errors"
	"fmt"
	"image/png"
	"io"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"mustbook/bot/letters"
	"mustbook/ferment"
)

// ErrNoBatch is returned where there is no state to print.
var ErrNoBatch = errors.New("no batch to print")

// Lines of a list in millimetres, and their letters in points.
const (
	lineHeight = 4.6
	lineSize   = 8.5
	headHeight = 13.0 // a list's heading with the names of its columns
	noteLines  = 8    // of one note
)

// Sheet writes a batch's record as PDF on one or two pages, in the household's units.
// The picture is a PNG as the chart package draws it; empty leaves it out. Now is
// the date of print and of the file. Errors: ErrNoBatch, a picture that is no PNG,
// the writer's.
func Sheet(w io.Writer, s *ferment.State, png []byte, look Look, now time.Time) error {
	return sheet(w, s, png, look, now, true)
}

// sheet is Sheet with the choice to leave the content unpacked, which tests read.
func sheet(w io.Writer, s *ferment.State, pic []byte, look Look, now time.Time, packed bool) error {
	if s == nil {
		return ErrNoBatch
	}
	p := newPaper(look.Letter, letters.Printable(name(s), 60), now, packed)
	p.pdf.AddPage()
	y := p.head(s, look, now)
	below, err := p.picture(pic, y)
	if err != nil {
		return err
	}
	y = max(p.identity(s, look, y, len(pic) > 0), below) + 4
	p.lists(s, look, y)
	p.footers(s)
	return p.write(w)
}

// name is a batch's name as it can be printed; what does not fit is cut where it is set.
func name(s *ferment.State) string { return letters.Name(s.Name, s.N, longestName) }

// longestName bounds the work for a name that fills a message, in letters.
const longestName = 400

// inner is the width between the margins.
func (p *paper) inner() float64 { return p.width - 2*edge }

// head sets the name and the line below it, and returns where the next may begin.
func (p *paper) head(s *ferment.State, look Look, now time.Time) float64 {
	p.font(true, 18)
	p.put(edge, edge+6, p.inner(), name(s))
	p.font(false, 9)
	p.put(edge, edge+11.5, p.inner(), fmt.Sprintf("batch %d, %s, %s; as the book stood on %s", s.N, s.Kind, s.Stage, look.date(now)))
	p.rule(edge, edge+14, p.width-edge, edge+14)
	return edge + 18
}

// Share of the width that the identity takes beside the picture.
const identityWidth = 72.0

// picture sets the graph right of the identity and returns its lower end.
func (p *paper) picture(pic []byte, y float64) (float64, error) {
	if len(pic) == 0 {
		return y, nil
	}
	size, err := png.DecodeConfig(bytes.NewReader(pic))
	if err != nil || size.Width == 0 || size.Height == 0 {
		return y, fmt.Errorf("picture of the sheet: %w", errors.Join(err, errBadPicture))
	}
	wide := p.inner() - identityWidth
	// A picture higher than wide would push the lists off the page.
	high := min(wide*float64(size.Height)/float64(size.Width), 90)
	wide = min(wide, high*float64(size.Width)/float64(size.Height))
	p.pdf.RegisterImageOptionsReader("graph", fpdf.ImageOptions{ImageType: "PNG"}, bytes.NewReader(pic))
	p.pdf.ImageOptions("graph", p.width-edge-wide, y-3, wide, high, false, fpdf.ImageOptions{ImageType: "PNG"}, 0, "")
	return y - 3 + high, p.pdf.Error()
}

// errBadPicture marks a picture that cannot be put on a sheet.
var errBadPicture = errors.New("it must be a PNG")

// identity sets what the batch is, a line for each thing that is known.
func (p *paper) identity(s *ferment.State, look Look, y float64, beside bool) float64 {
	width := p.inner()
	if beside {
		width = identityWidth - 4
	}
	for _, f := range facts(s, look) {
		p.font(true, lineSize)
		p.put(edge, y+3, 26, f[0])
		p.font(false, lineSize)
		p.put(edge+27, y+3, width-27, f[1])
		y += lineHeight
	}
	return y
}

// facts lists what is known of a batch, each with its name.
func facts(s *ferment.State, look Look) [][2]string {
	var out [][2]string
	add := func(name, value string) {
		if value != "" {
			out = append(out, [2]string{name, value})
		}
	}
	add("also called", strings.Join(s.Names, ", "))
	add("begun", look.date(s.Began))
	add("yeast in", pitched(s, look))
	if s.OG > 0 {
		add("original gravity", look.sg(s.OG)+ogRemark[s.OGSource])
	}
	if s.Last != nil {
		add("last gravity", look.sg(s.Last.SG)+", "+look.date(s.Last.At))
	}
	add("alcohol", strength(s, look))
	if s.SugarKnown {
		add("sugar left", fmt.Sprintf("about %s (± %s)", look.perLitre(s.SugarLeft), look.number(s.SugarDoubt, 0)))
	}
	if s.VolumeL > 0 {
		add("volume", look.litres(s.VolumeL))
	}
	add("place", s.Place)
	add("kit serial", s.Serial)
	add("kit lot", s.Lot)
	add("kit best before", s.BestBefore)
	add("yeast lot", s.YeastLot)
	add("pH", measure(s.PH, 2, "", look))
	add("acid", measure(s.TA, 1, " g/L tartaric", look))
	add("free SO2", measure(s.FreeSO2, 0, " mg/L", look))
	add("total SO2", measure(s.TotalSO2, 0, " mg/L", look))
	add("bottled", bottled(s, look))
	add("contains", strings.Join(contains(s), ", "))
	return out
}

// ogRemark says where an original gravity is from, if it was not read plainly.
var ogRemark = map[ferment.OGSource]string{
	ferment.OGExplicit: " (as told)", ferment.OGAfterPitch: " (after the yeast)", ferment.OGProvisional: " (so far)",
	ferment.OGAssumed: " (yeast not logged)", ferment.OGBlend: " (of its parts)",
}

// pitched is when the yeast went in: "about" where only a fall tells of it.
func pitched(s *ferment.State, look Look) string {
	switch {
	case s.Pitched.IsZero():
		return ""
	case s.PitchAssumed:
		return "about " + look.date(s.Pitched)
	}
	return look.moment(s.Pitched, s.PitchDay)
}

// strength is the alcohol with its doubt.
func strength(s *ferment.State, look Look) string {
	if !s.ABVKnown {
		return "not known"
	}
	t := fmt.Sprintf("%s %% vol (± %s)", look.abv(s.ABV), look.Figures.Doubt(s.ABVDoubt))
	if s.ABVLeast {
		t = "at least " + t
	}
	return t
}

// measure prints a measured value with its day, or nothing for nil.
func measure(m *ferment.Measure, decimals int, unit string, look Look) string {
	if m == nil {
		return ""
	}
	return look.number(m.Value, decimals) + unit + ", " + look.date(m.At)
}

// bottled is the day, and how many bottles of what size, where they were counted.
func bottled(s *ferment.State, look Look) string {
	t := look.date(s.Bottled)
	if t != "" && s.BottlesMade > 0 {
		t += fmt.Sprintf(", %d of %s", s.BottlesMade, look.litres(s.BottleML/1000))
	}
	return t
}

// lists sets the lists below y, on a second page where they do not end on the
// first.
func (p *paper) lists(s *ferment.State, look Look, y float64) {
	p.font(false, lineSize)
	ls := lists(s, look, func(t string) []string { return p.wrap(t, p.inner()-36, noteLines) })
	foot := p.height - edge - 4
	need := make([]int, len(ls))
	for i, l := range ls {
		need[i] = len(l.rows)
	}
	// Three lines are lost where a page breaks: a heading is not left alone at its foot.
	room := int((foot-y+foot-edge-float64(len(ls)+1)*headHeight)/lineHeight) - 3
	for i, n := range share(need, room) {
		ls[i].rows = shorten(ls[i].rows, n)
		y = p.list(ls[i], y, foot)
	}
}

// list sets one list and returns where it ends.
func (p *paper) list(l list, y, foot float64) float64 {
	if y+headHeight+2*lineHeight > foot {
		y = p.turn()
	}
	y = p.heading(l, l.title, y)
	for _, r := range l.rows {
		if y+lineHeight > foot {
			y = p.heading(l, l.title+", continued", p.turn())
		}
		p.font(r[0] == "total", lineSize)
		for i, t := range r {
			p.put(edge+l.at[i], y+3.2, p.column(l, r, i), t)
		}
		y += lineHeight
	}
	return y + 3
}

// turn begins the next page and returns its upper end.
func (p *paper) turn() float64 {
	p.pdf.AddPage()
	return edge
}

// column is the width of a column; a lone text has the whole line.
func (p *paper) column(l list, r row, i int) float64 {
	if i+1 == len(r) {
		return p.inner() - l.at[i]
	}
	return l.at[i+1] - l.at[i] - 2
}

// heading sets a list's title and the names of its columns over a rule.
func (p *paper) heading(l list, title string, y float64) float64 {
	p.font(true, 11)
	p.put(edge, y+4, p.inner(), title)
	p.font(false, 7.5)
	for i, h := range l.heads {
		p.put(edge+l.at[i], y+8, p.inner()-l.at[i], h)
	}
	p.rule(edge, y+9.2, p.width-edge, y+9.2)
	return y + headHeight - 3
}

// footers numbers the pages, so that a sheet out of its binder finds back.
func (p *paper) footers(s *ferment.State) {
	n := p.pdf.PageCount()
	for i := 1; i <= n; i++ {
		p.pdf.SetPage(i)
		p.font(false, 7.5)
		p.put(edge, p.height-edge+4, p.inner(), fmt.Sprintf("%s, batch %d, page %d of %d", letters.Printable(name(s), 60), s.N, i, n))
	}
}
