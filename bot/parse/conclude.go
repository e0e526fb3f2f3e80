package parse

import (
	"strconv"
	"strings"
	"time"
)

// silentMisfit: in a group an unlabelled gravity that names no batch and
// fits none is not for the book; a bare whole number is asked. An asked
// whole number is the one question that a group gets unprompted, and only
// if it fits a batch.
func (r *reader) silentMisfit(d *draft) (Intent, bool) {
	if r.addressed() {
		return Intent{}, false
	}
	if len(d.scopes.batches) > 0 {
		for _, c := range d.gravities() {
			if (c.ask == "rise" || c.ask == "fall") && c.v != nil && !c.v.label && d.w.other > 0 {
				return r.ignore("it speaks of something else, and does not fit"), true
			}
		}
		return Intent{}, false
	}
	for _, c := range d.gravities() {
		if c.v == nil || c.v.label {
			continue
		}
		if c.ask != "" && c.ask != "duplicate" && len(d.deeds) == 0 {
			return r.ignore("it fits no open batch"), true
		}
		if c.v.n.whole() && c.ask == "" {
			c.ask = "is_it_a_reading"
		}
	}
	return Intent{}, false
}

// checkDoubles asks about a deed or an addition that was logged within 24
// hours, unless its step is due: then only within three hours or from
// another person. Two people may each add the same sulphite: the contract
// asks within 24 hours. When a step is due or was just reminded of, it is
// done once more on purpose, so only a quick repeat or another person's is
// asked.
func (r *reader) checkDoubles(d *draft) {
	for i := range d.claims {
		c := &d.claims[i]
		if c.e.Deed == "" || c.batch == 0 || c.ask != "" || !doubles(c.e.Deed) {
			continue
		}
		b := &r.ctx.Batches[c.batch-1]
		if b.Counting && c.e.Deed == "bottled" {
			continue // a running count, not the same bottles twice
		}
		at := c.e.When.instant(r.ctx.Now)
		if c.e.Deed == "pitched" && !b.Pitched.IsZero() && !b.stepDue("pitched", "") && (c.e.Quantity == "event" || c.e.Material == "yeast" || len(d.deeds) == 1) {
			c.ask = "duplicate"
			continue
		}
		for _, x := range b.Recent {
			gap := at.Sub(x.When)
			if c.e.When.Day {
				gap = sameDayGap(c.e.When.At, x.When)
			}
			if gap < 0 {
				gap = -gap
			}
			if gap > 24*time.Hour || !sameDeed(x.What, &c.e) || x.What == c.e.Deed && b.otherPart(x, &c.e) {
				continue
			}
			if b.stepDue(c.e.Deed, c.e.Material) && gap > 3*time.Hour && (x.By == "" || fold(x.By) == fold(r.ctx.Sender)) {
				continue
			}
			c.ask = "duplicate"
		}
	}
}

// otherPart reports that the deed of the book put in another material than the
// entry: finings and stabilisers come in two parts, and the second is no double.
func (b *Batch) otherPart(x Deed, e *Entry) bool {
	for _, y := range b.Recent {
		if m, ok := strings.CutPrefix(y.What, "addition "); ok && e.Material != "" && y.When.Equal(x.When) && !sameDeed(y.What, e) && m != "" {
			return true
		}
	}
	return false
}

// sameDayGap treats a day without hour as the same moment as anything on
// that day.
func sameDayGap(day, t time.Time) time.Duration {
	if y1, m1, d1 := day.Date(); true {
		if y2, m2, d2 := t.Date(); y1 == y2 && m1 == m2 && d1 == d2 {
			return 0
		}
	}
	return 48 * time.Hour
}

// doubles says which deeds are noticed when they come twice. Bubbles,
// tastes and openings are told as often as people like.
func doubles(deed string) bool {
	switch deed {
	case "note", "tasted", "fault noted", "opened", "given away", "moved", "target set", "kit serial", "kit lot", "working", "not working yet", "airlock refilled", "kit best before", "yeast lot":
		return false
	}
	return true
}

// sameDeed compares a deed of the book with an entry: the same material,
// or the same deed where nothing was put in. The book may call the deed
// "addition sulphite" or just "sulphite"; both spellings of it are one
// material.
func sameDeed(what string, e *Entry) bool {
	w := fold(what)
	if w == e.Deed && (w == "fined" || w == "stabilised" || w == "sweetened") {
		return true
	}
	if e.Material != "" && (e.Quantity == "addition" || e.Quantity == "topping") {
		m := e.Material
		if m == "campden" {
			m = "sulphite"
		}
		return strings.Contains(w, m) || m == "sulphite" && (strings.Contains(w, "sulfite") || strings.Contains(w, "campden")) || namesSense(w, cMaterial, m)
	}
	return w == e.Deed || e.Deed != "addition" && (namesSense(w, cDeed, e.Deed) || namesSense(w, cAct, e.Deed))
}

// namesSense reports a form of that sense in a folded text: "addition dap" names the
// nutrient.
func namesSense(text string, c class, name string) bool {
	ws := strings.Fields(text)
	for i, w := range ws {
		for _, f := range lexicon().byFirst[w] {
			if len(f.words) > len(ws)-i || !sameWords(f.words, ws[i:i+len(f.words)]) {
				continue
			}
			for _, s := range f.senses {
				if s.class == c && s.name == name {
					return true
				}
			}
		}
	}
	return false
}

// stepDue reports that the plan expects the deed now.
func (b *Batch) stepDue(deed, material string) bool {
	for _, s := range b.StepsDue {
		if s == deed || material != "" && strings.HasSuffix(s, material) {
			return true
		}
	}
	return false
}

// checkAmounts asks how much, where sugar, honey, sulphite, sorbate or
// acid went in. These five change the wine's arithmetic; for the others an
// empty amount only leaves the record thinner.
func (r *reader) checkAmounts(d *draft) {
	for i := range d.claims {
		c := &d.claims[i]
		if c.e.Quantity != "addition" || c.e.Deed != "addition" || c.e.Value != nil || c.ask != "" {
			continue
		}
		switch c.e.Material {
		case "sugar", "honey", "sulphite", "sorbate", "acid":
			c.ask = "amount"
		}
	}
}

// rank puts the questions in the order in which they must be asked.
var rank = []string{"digits", "magnitude", "plausible", "is_it_a_reading", "rise", "fall", "duplicate", "gallon", "unit", "temp_unit", "amount"}

// conclude makes the intent: what is stored now, what is held, what is
// asked. A question about the gravity holds back everything of its
// message, since the temperature belongs to it and the deed may be of
// another batch; a question about one unit holds back only that one entry.
func (r *reader) conclude(d *draft) Intent {
	kind, deed := d.kind()
	in := Intent{Kind: kind, Event: deed, Batch: d.claims[0].e.BatchN}
	var asked *claim
	for _, a := range rank {
		for i := range d.claims {
			if d.claims[i].ask == a && asked == nil {
				asked = &d.claims[i]
			}
		}
	}
	if asked == nil {
		in.Entries = d.entries()
		return in
	}
	in.Kind, in.Ask = Ask, asked.ask
	alone := asked.ask == "temp_unit" || asked.ask == "unit" || asked.ask == "amount" || asked.ask == "gallon"
	for i := range d.claims {
		c := &d.claims[i]
		switch {
		case c.ask == "amount":
			in.Entries = append(in.Entries, c.e)
		case c.ask != "" || !alone:
			in.Held = append(in.Held, c.e)
		default:
			in.Entries = append(in.Entries, c.e)
		}
	}
	r.offer(&in, asked, d)
	in.Why = r.whyAsked(asked)
	return in
}

// offer adds the likely answers. The first option is the likeliest. Of a
// misfit the other batches that the gravity fits are offered: a mix-up of
// jars is the usual cause (common practice, no source).
func (r *reader) offer(in *Intent, c *claim, d *draft) {
	switch c.ask {
	case "magnitude", "is_it_a_reading":
		if len(c.options) == 0 && c.e.Value != nil {
			in.Options = append(in.Options, Option{Label: c.shown(*c.e.Value), Entries: in.Held})
		}
		for _, v := range c.options {
			in.Options = append(in.Options, Option{Label: c.shown(v), Entries: withValue(in.Held, c, v)})
		}
		if c.ask == "magnitude" && impossible(&c.e) {
			in.Held = without(in.Held, c)
		}
	case "temp_unit":
		for _, u := range []string{"F", "C"} {
			e := c.e
			e.Unit = u
			in.Options = append(in.Options, Option{Label: c.e.Typed + " °" + u, Entries: []Entry{e}})
		}
	case "gallon":
		for _, u := range []string{"US gal", "imp gal"} {
			es := append([]Entry(nil), in.Held...)
			for i := range es {
				if es[i].Unit == "gal" {
					es[i].Unit = u
				}
			}
			in.Options = append(in.Options, Option{Label: u, Entries: es})
		}
	case "unit":
		for _, u := range []string{"g/L", "g/100mL"} {
			e := c.e
			e.Unit = u
			in.Options = append(in.Options, Option{Label: u, Entries: []Entry{e}})
		}
	case "duplicate":
		in.Options = []Option{{Label: "second dose", Entries: in.Held}, {Label: "same one"}}
		switch c.e.Quantity {
		case "event":
			in.Options[0].Label = "done again"
		case "bottles":
			in.Options[0].Label = "more bottles"
		}
	case "rise", "fall":
		for _, b := range r.fitting(*c.e.Value, c.e.When.instant(r.ctx.Now)) {
			if b != c.batch {
				x := &r.ctx.Batches[b-1]
				in.Options = append(in.Options, Option{Label: x.Name, Entries: moved(in.Held, x)})
			}
		}
	}
}

// impossible reports a value that cannot even be kept as typed. Keeping
// 10.32 as typed would put a value into the book that no arithmetic can
// use.
func impossible(e *Entry) bool {
	return e.Quantity == "sg" && e.Value != nil && (*e.Value < 0.95 || *e.Value > 1.25)
}

// without drops the asked value from what would be kept.
func without(es []Entry, c *claim) []Entry {
	out := es[:0:0]
	for _, e := range es {
		if e.Value != c.e.Value {
			out = append(out, e)
		}
	}
	return out
}

// shown is the label of a value: gravities with three decimals. Other
// values keep the digits that the slip gives them.
func (c *claim) shown(v float64) string {
	if c.e.Unit == "sg" {
		return fmtSG(v)
	}
	return strings.TrimSpace(strconv.FormatFloat(v, 'f', -1, 64) + " " + c.e.Unit)
}

// withValue is the held entries with another value in place of the asked
// one. Values are compared by pointer: two entries may hold the same
// number.
func withValue(es []Entry, c *claim, v float64) []Entry {
	out := append([]Entry(nil), es...)
	for i := range out {
		if out[i].Value == c.e.Value {
			f := v
			out[i].Value = &f
		}
	}
	return out
}

// whyAsked is the reason in plain words, for `hear` and for `why`.
func (r *reader) whyAsked(c *claim) string {
	switch c.ask {
	case "rise":
		return c.e.Typed + " is above the reading before it"
	case "fall":
		return c.e.Typed + " is far below the reading before it"
	case "digits":
		return c.e.Typed + " lacks digits"
	case "magnitude":
		return c.e.Typed + " is one slip away from a value that fits"
	case "plausible":
		return c.e.Typed + " is possible but unusual"
	case "duplicate":
		return "the same was logged within 24 hours"
	case "gallon":
		return "US or imperial gallon?"
	case "temp_unit":
		return c.e.Typed + " is no likely temperature in the house's unit"
	case "amount":
		return "no amount was typed"
	case "unit":
		return "no unit was typed"
	}
	return "a bare number"
}
