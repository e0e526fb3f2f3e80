package report

import (
	"fmt"
	"io"
	"strings"
	"time"

	"mustbook/bot/letters"
	"mustbook/ferment"
)

// Labels of a sheet: two beside each other, 90 × 60 mm, which goes round no more
// than the front of a 750 ml bottle.
const (
	labelWidth  = 90.0
	labelHeight = 60.0
)

// LabelText gives the lines of a bottle's label: name, year, alcohol to the
// nearest half, dry or sweet, what guests must be told, the bottling, that it is
// home made, the batch. What is not known has no line. A nil state has none.
func LabelText(s *ferment.State, look Look) []string {
	if s == nil {
		return nil
	}
	lines := []string{letters.Printable(name(s), 40)}
	if y := vintage(s, look); y != "" {
		lines = append(lines, y)
	}
	if t := strings.Join(nonEmpty(aboutABV(s, look), taste(s)), ", "); t != "" {
		lines = append(lines, t)
	}
	if c := contains(s); len(c) > 0 {
		lines = append(lines, "contains "+strings.Join(c, ", "))
	}
	if !s.Bottled.IsZero() {
		lines = append(lines, "bottled "+look.date(s.Bottled))
	}
	return append(lines, "home made, not for sale", fmt.Sprintf("batch %d", s.N))
}

// vintage is the year the batch was begun, or that of the oldest thing known.
func vintage(s *ferment.State, look Look) string {
	for _, t := range []time.Time{s.Began, s.Pitched, s.OGAt, s.Bottled} {
		if !t.IsZero() {
			return t.In(look.zone()).Format("2006")
		}
	}
	return ""
}

// aboutABV is the strength to the nearest half; "at least" where sugar was hidden
// in the pulp. Without an original gravity there is none to print.
func aboutABV(s *ferment.State, look Look) string {
	switch {
	case !s.ABVKnown, s.ABV < 0.25: // "0.0 %" of what has hardly begun says nothing
		return ""
	case s.ABVLeast:
		return "at least " + look.halves(s.ABV) + " % vol"
	}
	return "about " + look.halves(s.ABV) + " % vol"
}

// taste is dry or sweet; a wine still at work is neither.
func taste(s *ferment.State) string {
	switch {
	case s.IsSweet():
		return "sweet"
	case s.Stop.Verdict == ferment.StopDry || s.Stop.Verdict == ferment.StopEnough,
		s.SugarKnown && s.SugarLeft <= ferment.DryLeft:
		return "dry"
	}
	return ""
}

// labelSulphites is the total SO2 in mg/L from which sulphites must be named:
// 10 mg/L (Regulation (EU) 1169/2011, annex II).
const labelSulphites = 10

// contains lists what guests must be told. Sulphites are named without a test,
// since yeast makes some itself; only a test below 10 mg/L that is younger than
// the last sulphite takes them off.
func contains(s *ferment.State) []string {
	free := s.TotalSO2 != nil && s.TotalSO2.Value < labelSulphites && !s.Sulphited.After(s.TotalSO2.At)
	out := []string{}
	if !free {
		out = append(out, "sulphites")
	}
	for _, a := range s.Allergens {
		if a != "sulphites" {
			out = append(out, a)
		}
	}
	return out
}

// nonEmpty leaves out what is empty.
func nonEmpty(ss ...string) []string {
	var out []string
	for _, s := range ss {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}

// Labels writes a page of labels to cut out, as PDF: eight on A4 or on US Letter.
// Errors: ErrNoBatch, the writer's.
func Labels(w io.Writer, s *ferment.State, look Look) error {
	return labels(w, s, look, true)
}

// labels is Labels with the choice to leave the content unpacked, which tests read.
func labels(w io.Writer, s *ferment.State, look Look, packed bool) error {
	if s == nil {
		return ErrNoBatch
	}
	at := s.NewestAt
	if at.IsZero() {
		at = time.Unix(0, 0) // the file needs a date, and no clock is asked here
	}
	p := newPaper(look.Letter, "Labels", at, packed)
	p.pdf.AddPage()
	lines := LabelText(s, look)
	rows := int((p.height - 10) / labelHeight)
	x0, y0 := (p.width-2*labelWidth)/2, (p.height-float64(rows)*labelHeight)/2
	for i := range 2 * rows {
		p.label(x0+labelWidth*float64(i%2), y0+labelHeight*float64(i/2), lines)
	}
	return p.write(w)
}

// label sets one label: the name large, on a second line where it is long, the
// rest below it around the middle.
func (p *paper) label(x, y float64, lines []string) {
	const inside = labelWidth - 12
	p.pdf.Rect(x, y, labelWidth, labelHeight, "D")
	mid, at := x+labelWidth/2, y+14
	size := 20.0
	p.font(true, size)
	for size > 13 && p.pdf.GetStringWidth(lines[0]) > inside {
		size--
		p.font(true, size)
	}
	for _, l := range p.wrap(lines[0], inside, 2) {
		p.centre(mid, at, inside, l)
		at += 7
	}
	p.rule(mid-12, at-3.5, mid+12, at-3.5)
	p.small(mid, at+2, y+labelHeight-3, inside, lines[1:])
}

// small sets the lines below a name between two heights. None is cut: what guests
// must be told may take two lines, and then all stand closer.
func (p *paper) small(mid, from, to, inside float64, lines []string) {
	p.font(false, 10)
	var all []string
	for _, l := range lines {
		all = append(all, p.wrap(l, inside, 3)...)
	}
	pitch := min(5, (to-from)/float64(len(all)-1))
	p.font(false, min(10, pitch*2.4))
	for i, l := range all {
		p.centre(mid, from+pitch*float64(i), inside, l)
	}
}
