package chart

import (
	"slices"
	"sort"
	"time"

	"mustbook/bot/letters"
	"mustbook/ferment"
)

// doing is a word on a stalk.
type doing struct {
	day  float64
	at   time.Time
	word string
	rank int // 1 is kept first where there is no room for all
}

// ranks says which doings are drawn: those that change the wine or its vessel.
// Daily stirring would hide them.
var ranks = map[string]int{
	ferment.DeedPitched: 1, ferment.DeedBottled: 1,
	ferment.DeedRacked: 2, ferment.DeedPressed: 2, ferment.DeedStrained: 2,
	ferment.DeedStabilised: 3, ferment.DeedSweetened: 3,
	ferment.DeedBlended: 4, ferment.DeedFined: 4, ferment.DeedSplit: 4,
	ferment.DeedDegassed: 5, ferment.DeedColdStart: 5, ferment.DeedOakIn: 5, ferment.DeedMLFStarted: 5,
	ferment.DeedMLFDone: 5, ferment.DeedMoved: 6, ferment.DeedToppedUp: 6,
}

// short words stand for those that would be too long on a stalk.
var short = map[string]string{
	ferment.DeedColdStart: "cold", ferment.DeedMLFStarted: "malolactic", ferment.DeedMLFDone: "malolactic done",
}

// doings lists what was done, in order of time, each word once a day, its date in
// a zone.
func (c curve) doings(zone *time.Location) []doing {
	if zone == nil {
		zone = time.UTC
	}
	var out []doing
	for _, d := range c.state.Deeds {
		if r := ranks[d.What]; r > 0 {
			word := d.What
			if s := short[word]; s != "" {
				word = s
			}
			out = append(out, doing{c.day(d.At), d.At.In(zone), word, r})
		}
	}
	for _, a := range c.state.Additions {
		if ferment.ClassOf(a.Material).Raises() {
			out = append(out, doing{c.day(a.At), a.At.In(zone), "+ " + letters.Printable(a.Material, 10), 4})
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].day < out[j].day })
	return once(out)
}

// once leaves out a word that stands within a day before: two vessels racked in
// one afternoon, or one deed told by two people.
func once(ds []doing) []doing {
	var out []doing
	for _, d := range ds {
		seen := false
		for _, o := range out {
			seen = seen || o.word == d.word && d.day-o.day < 1
		}
		if !seen {
			out = append(out, d)
		}
	}
	return out
}

// flag is a word laid in a lane: its stalk at x, its letters from a to b.
type flag struct {
	x, a, b float64
	lane    int
	doing   doing
	stalk   bool
}

// lanes is how many rows of words stand above each other at most; more would
// leave the curve less than half of the sheet.
const lanes = 3

// lay finds each word a lane where it covers no other word and no stalk; the
// more telling words choose first, and one that finds no room is left out. What
// was done later than the axis reaches is handed back.
func lay(ds []doing, px func(float64) float64, edge float64) (out []flag, late []doing) {
	// A greedy choice is enough: a batch has a dozen doings, and the ranks say
	// which of them a household looks for.
	order := make([]doing, len(ds))
	copy(order, ds)
	sort.SliceStable(order, func(i, j int) bool { return order[i].rank < order[j].rank })
	for _, d := range order {
		fl := flag{x: px(d.day), doing: d, stalk: true}
		w := width(small, d.word)
		fl.a, fl.b = fl.x+4, fl.x+4+w
		if fl.x < left-1 {
			continue // before the axis begins
		}
		if fl.x > edge+1 {
			late = append(late, d)
			continue
		}
		if fl.b > edge {
			fl.a, fl.b = fl.x-4-w, fl.x-4
		}
		if all, ok := fl.lift(0, out, lanes-1); ok {
			out = all
		}
	}
	return out, late
}

// lift lays a flag in the lowest lane from one on that has room. Where none has, one
// word that stands in the way goes a lane higher, and as many more as steps allow.
func (fl flag) lift(from int, out []flag, steps int) ([]flag, bool) {
	for fl.lane = from; fl.lane < lanes; fl.lane++ {
		if fl.fits(out) {
			return append(slices.Clone(out), fl), true
		}
	}
	for i := 0; i < len(out) && steps > 0; i++ {
		o, rest := out[i], slices.Delete(slices.Clone(out), i, i+1)
		with, ok := fl.lift(from, rest, 0)
		if !ok {
			continue
		}
		if all, ok := o.lift(o.lane+1, with, steps-1); ok {
			return all, true
		}
	}
	return nil, false
}

// fits reports whether a flag neither covers another nor is crossed by a stalk.
func (fl flag) fits(others []flag) bool {
	const gap = 6
	for _, o := range others {
		switch {
		case o.lane == fl.lane && fl.a < o.b+gap && o.a < fl.b+gap,
			o.lane == fl.lane && (o.stalk && fl.a < o.x && o.x < fl.b || fl.stalk && o.a < fl.x && fl.x < o.b),
			o.lane > fl.lane && o.stalk && fl.a-2 < o.x && o.x < fl.b+2,
			o.lane < fl.lane && fl.stalk && o.a-2 < fl.x && fl.x < o.b+2:
			return false
		}
	}
	return true
}

// stalks draws the doings: a word above the plot and a thin line down from it to
// the curve, or to the axis where there is no curve.
func (f *frame) stalks(p *picture) {
	c := p.curves[0]
	for _, fl := range f.flags {
		y := f.top + 6 + lane*float64(fl.lane)
		if fl.stalk {
			foot := float64(bottom)
			if sg, ok := c.at(fl.doing.day); ok {
				foot = f.py(sg) + ringRadius + 2
			} else if first := c.points[0]; fl.doing.day < first.day {
				foot = f.py(first.sg) // the names of the thresholds stand below
			}
			f.line(pen(dark, 1), fl.x, foot, fl.x, y+small-4)
		}
		f.put(small, 0, fl.a, y, fl.doing.word)
	}
}

// lateWord names, right of the title, the most telling of what was done later than
// the axis reaches, where the title leaves room.
func (f *frame) lateWord(title string) {
	if len(f.late) == 0 {
		return
	}
	d := f.late[0] // in order of rank
	word := d.word + d.at.Format(" 2 Jan 06") + " →"
	if 12+width(big, title)+20+width(small, word) < right {
		f.put(small, -1, right, Height-28, word)
	}
}
