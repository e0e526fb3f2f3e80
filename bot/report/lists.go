package report

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"mustbook/ferment"
	"mustbook/ferment/liquid"
)

// row is one line of a list, a text for each column.
type row []string

// list is a table with a heading; columns end where the next begins.
type list struct {
	title string
	heads []string
	at    []float64 // left ends of the columns, mm from the margin
	rows  []row
}

// missingRow stands for n lines that two pages do not hold.
func missingRow(n int) row {
	return row{fmt.Sprintf("… %d lines left out here; the book has them", n)}
}

// lists are those of a batch that have anything in them.
func lists(s *ferment.State, look Look, wrap func(string) []string) []list {
	all := []list{readings(s, look), doings(s, look), additions(s, look), notes(s, look, wrap)}
	var out []list
	for _, l := range all {
		if len(l.rows) > 0 {
			out = append(out, l)
		}
	}
	return out
}

// readings shows what was typed beside what it means, so that a slip of the pen
// and a warm sample can be told apart years later.
func readings(s *ferment.State, look Look) list {
	l := list{title: "Readings", heads: []string{"when", "typed", "at", "gravity at " + look.temp(20), "remark"}, at: []float64{0, 36, 66, 86, 118}}
	for _, r := range s.Readings {
		temp := "–"
		if r.TempC != nil {
			temp = look.temp(*r.TempC)
		}
		means, remark := look.sg(r.SG), ""
		switch {
		case !r.Counts:
			means, remark = "–", "kept as typed, not on the curve"
		case r.Taken:
			remark = "taken as read: no temperature"
		}
		l.rows = append(l.rows, row{look.moment(r.At, r.Day), typed(r, look), temp, means, remark})
	}
	return l
}

// units as they are printed behind what was typed; SG has none.
var units = map[ferment.Quantity]string{
	ferment.QBrix: " Bx", ferment.QBalling: " Balling", ferment.QOechsle: " °Oe", ferment.QBaume: " °Bé", ferment.QKMW: " KMW",
}

// typed is a reading as it was typed, or its value where the digits are not kept.
func typed(r ferment.Reading, look Look) string {
	t := r.Entry.Typed
	if t == "" {
		t = look.sg(liquid.Gravity(r.Typed))
		if units[r.Entry.Quantity] != "" {
			t = look.number(r.Entry.Value, 1)
		}
	}
	return t + units[r.Entry.Quantity]
}

// doings lists what was done, by whom, and in which words where they say more.
func doings(s *ferment.State, look Look) list {
	l := list{title: "Doings", heads: []string{"when", "what", "by", "words"}, at: []float64{0, 36, 76, 106}}
	for _, d := range s.Deeds {
		if onlyWords(s, d) {
			continue
		}
		words := d.Text
		if strings.EqualFold(words, d.What) || among(s.Notes, d.Root) {
			words = ""
		}
		l.rows = append(l.rows, row{look.moment(d.At, d.Day), d.What, d.By, words})
	}
	return l
}

// onlyWords reports a taste or a fault whose words stand among the notes: told here too, a
// reader would look for the second glass.
func onlyWords(s *ferment.State, d ferment.Deed) bool {
	of := s.Notes
	switch d.What {
	case ferment.DeedTasted:
	case ferment.DeedFault:
		of = s.Faults
	default:
		return false
	}
	return among(of, d.Root)
}

func among(es []ferment.Entry, root int64) bool {
	return slices.ContainsFunc(es, func(e ferment.Entry) bool { return e.Root == root })
}

// additions lists what went in: as typed, in grams or litres, and into how much;
// then the totals.
func additions(s *ferment.State, look Look) list {
	l := list{title: "Additions", heads: []string{"when", "what", "typed", "makes", "into"}, at: []float64{0, 24, 72, 108, 154}}
	for _, a := range s.Additions {
		into := ""
		if a.VolumeL > 0 {
			into = look.litres(a.VolumeL)
		}
		l.rows = append(l.rows, row{look.date(a.At), a.Material, amount(a, look), makes(a.Grams, a.Litres, a.Estimate, look), into})
	}
	l.rows = append(l.rows, totals(s, look)...)
	return l
}

// amount is an addition as it was typed.
func amount(a ferment.Addition, look Look) string {
	switch {
	case a.Typed != "":
		return strings.TrimSpace(a.Typed + " " + a.Unit)
	case a.Has:
		return strings.TrimSpace(look.number(a.Amount, 3) + " " + a.Unit)
	}
	return "no amount"
}

// makes is an amount by weight, else by volume; "about" where it comes from
// spoons, tablets or packets.
func makes(g, l float64, estimate bool, look Look) string {
	t := ""
	switch {
	case g > 0:
		t = look.grams(g)
	case l > 0:
		t = look.litres(l)
	}
	if t != "" && estimate {
		t = "about " + t
	}
	return t
}

// sum is what went in of one material.
type sum struct {
	name          string
	n             int
	grams, litres float64
	estimate      bool
	unknown       bool // one of them has no amount
}

// totals adds up materials that went in more than once, and what sulphite and
// sorbate make in the wine.
func totals(s *ferment.State, look Look) []row {
	var sums []*sum
	by := map[string]*sum{}
	for _, a := range s.Additions {
		key := strings.ToLower(a.Material)
		t := by[key]
		if t == nil {
			t = &sum{name: a.Material}
			by[key], sums = t, append(sums, t)
		}
		t.n++
		t.grams, t.litres = t.grams+a.Grams, t.litres+a.Litres
		t.estimate = t.estimate || a.Estimate
		t.unknown = t.unknown || a.Grams == 0 && a.Litres == 0
	}
	sort.SliceStable(sums, func(i, j int) bool { return sums[i].name < sums[j].name })
	var out []row
	for _, t := range sums {
		if m := makes(t.grams, t.litres, t.estimate, look); t.n > 1 && m != "" {
			if t.unknown {
				m = "over " + m
			}
			out = append(out, row{"total", t.name, "", m})
		}
	}
	if s.SO2Added > 0 {
		out = append(out, row{"total", "sulphite, as SO2 added", "", look.number(s.SO2Added, 0) + " mg/L"})
	}
	if s.Sorbate > 0 {
		out = append(out, row{"total", "potassium sorbate", "", look.number(s.Sorbate, 0) + " mg/L"})
	}
	return out
}

// notes are the tasting notes and other words, and faults; a long one takes
// several lines.
func notes(s *ferment.State, look Look, wrap func(string) []string) list {
	l := list{title: "Notes", heads: []string{"when", "words"}, at: []float64{0, 36}}
	es := append(append([]ferment.Entry{}, s.Notes...), s.Faults...)
	sort.SliceStable(es, func(i, j int) bool { return es[i].At.Before(es[j].At) })
	for _, e := range es {
		text := e.Text
		switch {
		case e.Quantity == ferment.QFault:
			text = "fault: " + text
		case e.Deed == ferment.DeedTasted:
			text = "tasted: " + text
		}
		when := look.moment(e.At, e.DayOnly)
		for _, line := range wrap(text) {
			l.rows = append(l.rows, row{when, line})
			when = ""
		}
	}
	return l
}
