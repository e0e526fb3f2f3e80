package report

import (
	"fmt"
	"sort"
	"strings"
	"time"

	"mustbook/ferment"
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
func lists(s *ferment.State, zone *time.Location, wrap func(string) []string) []list {
	all := []list{readings(s, zone), doings(s, zone), additions(s, zone), notes(s, zone, wrap)}
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
func readings(s *ferment.State, zone *time.Location) list {
	l := list{title: "Readings", heads: []string{"when", "typed", "at", "gravity at 20 °C", "remark"}, at: []float64{0, 36, 66, 86, 118}}
	for _, r := range s.Readings {
		temp := "–"
		if r.TempC != nil {
			temp = short(*r.TempC, 1) + " °C"
		}
		means, remark := gravity(float64(r.SG)), ""
		switch {
		case !r.Counts:
			means, remark = "–", "kept as typed, not on the curve"
		case r.Taken:
			remark = "taken as read: no temperature"
		}
		l.rows = append(l.rows, row{moment(r.At, r.Day, zone), typed(r), temp, means, remark})
	}
	return l
}

// units as they are printed behind what was typed; SG has none.
var units = map[ferment.Quantity]string{
	ferment.QBrix: " Bx", ferment.QBalling: " Balling", ferment.QOechsle: " °Oe", ferment.QBaume: " °Bé", ferment.QKMW: " KMW",
}

// typed is a reading as it was typed, or its value where the digits are not kept.
func typed(r ferment.Reading) string {
	t := r.Entry.Typed
	if t == "" {
		t = gravity(r.Typed)
		if units[r.Entry.Quantity] != "" {
			t = short(r.Entry.Value, 1)
		}
	}
	return t + units[r.Entry.Quantity]
}

// doings lists what was done, by whom, and in which words where they say more.
func doings(s *ferment.State, zone *time.Location) list {
	l := list{title: "Doings", heads: []string{"when", "what", "by", "words"}, at: []float64{0, 36, 76, 106}}
	for _, d := range s.Deeds {
		words := d.Text
		if strings.EqualFold(words, d.What) {
			words = ""
		}
		l.rows = append(l.rows, row{moment(d.At, d.Day, zone), d.What, d.By, words})
	}
	return l
}

// additions lists what went in: as typed, in grams or litres, and into how much;
// then the totals.
func additions(s *ferment.State, zone *time.Location) list {
	l := list{title: "Additions", heads: []string{"when", "what", "typed", "makes", "into"}, at: []float64{0, 36, 86, 122, 152}}
	for _, a := range s.Additions {
		into := ""
		if a.VolumeL > 0 {
			into = litres(a.VolumeL)
		}
		l.rows = append(l.rows, row{date(a.At, zone), a.Material, amount(a), makes(a.Grams, a.Litres, a.Estimate), into})
	}
	l.rows = append(l.rows, totals(s)...)
	return l
}

// amount is an addition as it was typed.
func amount(a ferment.Addition) string {
	switch {
	case a.Typed != "":
		return strings.TrimSpace(a.Typed + " " + a.Unit)
	case a.Has:
		return strings.TrimSpace(short(a.Amount, 3) + " " + a.Unit)
	}
	return "no amount"
}

// makes is an amount in grams, else in litres; "about" where it comes from
// spoons, tablets or packets.
func makes(g, l float64, estimate bool) string {
	t := ""
	switch {
	case g > 0:
		t = grams(g)
	case l > 0:
		t = litres(l)
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
func totals(s *ferment.State) []row {
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
		if m := makes(t.grams, t.litres, t.estimate); t.n > 1 && m != "" {
			if t.unknown {
				m = "over " + m
			}
			out = append(out, row{"total", t.name, "", m})
		}
	}
	if s.SO2Added > 0 {
		out = append(out, row{"total", "sulphite, as SO2 added", "", short(s.SO2Added, 0) + " mg/L"})
	}
	if s.Sorbate > 0 {
		out = append(out, row{"total", "potassium sorbate", "", short(s.Sorbate, 0) + " mg/L"})
	}
	return out
}

// notes are the tasting notes and other words, and faults; a long one takes
// several lines.
func notes(s *ferment.State, zone *time.Location, wrap func(string) []string) list {
	l := list{title: "Notes", heads: []string{"when", "words"}, at: []float64{0, 36}}
	es := append(append([]ferment.Entry{}, s.Notes...), s.Faults...)
	sort.SliceStable(es, func(i, j int) bool { return es[i].At.Before(es[j].At) })
	for _, e := range es {
		text := e.Text
		if e.Quantity == ferment.QFault {
			text = "fault: " + text
		}
		when := moment(e.At, e.DayOnly, zone)
		for _, line := range wrap(text) {
			l.rows = append(l.rows, row{when, line})
			when = ""
		}
	}
	return l
}
