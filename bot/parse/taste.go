package parse

import "strings"

// tasteBeside keeps what is said of the taste of an opened bottle: "opened one with
// the neighbours, a bit sharp but good". It is what is looked for a year later.
func (r *reader) tasteBeside(d *draft, x *deed) {
	if r.hasDeedNamed(d, "tasted") {
		return
	}
	for from := x.end; from < len(r.items); {
		to := from
		for to < len(r.items) && !(r.items[to].breaks() && r.items[to].used == "") && !r.items[to].punct("-") && !r.items[to].punct(":") {
			to++
		}
		if from > x.end && r.tastes(from, to) {
			text := strings.TrimSpace(r.text[r.items[from].start:])
			d.claims = append(d.claims, claim{at: from, e: Entry{Quantity: "note", Text: text, Deed: "tasted", By: x.by}})
			for k := from; k < len(r.items); k++ {
				if r.items[k].used == "" && r.items[k].batch == 0 {
					r.items[k].used = "taste"
				}
			}
			return
		}
		from = to + 1
	}
}

// tastes reports a clause of taste: such a word, and no number or deed beside it.
func (r *reader) tastes(from, to int) bool {
	found := false
	for k := from; k < to; k++ {
		it := &r.items[k]
		if it.used != "" || it.kind == tNum || it.is(cDeed) {
			return false
		}
		found = found || it.is(cTaste)
	}
	return found
}
