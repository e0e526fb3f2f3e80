package parse

import "strings"

// sulphiteBeside reads "free 14" and "61 total" of the sulphur dioxide: what is free or
// total in mg/L is nothing else, and without a unit where its label stands just before.
func (r *reader) sulphiteBeside(v *value) string {
	if v.unit != "" && v.unit != "mg/L" || v.q == "temp" {
		return ""
	}
	p := v.at - 1
	if p > 0 && r.items[p].punct("=") { // "f=28"
		p--
	}
	if p >= 0 {
		of := &r.items[p]
		if q := sulphurOf(of.fold); q != "" {
			for p--; p >= 0 && (r.items[p].punct(":") || r.items[p].punct("=")); p-- {
			}
			if v.unit == "mg/L" || p >= 0 && r.items[p].name(cLabel) == "free_so2" {
				if of.used == "" {
					of.used = "label"
				}
				return q
			}
		}
	}
	if k := v.end; k < len(r.items) && !r.numberFollows(k) {
		if q := sulphurOf(r.items[k].fold); q != "" && (v.unit == "mg/L" || v.at > 0 && r.items[v.at-1].name(cLabel) == "free_so2") {
			v.end = k + 1
			return q
		}
	}
	return ""
}

// dosedAlone books what was dosed in mg/L or ppm and is not named, "dosed at 30 ppm": sulphite.
// Nothing else is dosed so without its name (common practice, no source).
func (r *reader) dosedAlone(d *draft) {
	for i := range d.values {
		v := &d.values[i]
		if v.taken || v.label || v.q != "amount" || v.unit != "mg/L" {
			continue
		}
		from, to := r.clauseOf(v.at)
		dosed := false
		for k := from; k < to; k++ {
			it := &r.items[k]
			if it.is(cMaterial) && it.batch == 0 || it.is(cLabel) || it.kind == tWord && !it.known() {
				dosed = false
				break
			}
			dosed = dosed || it.has(cAside, "dosed") && it.used == "" && !r.denied(k)
		}
		if !dosed {
			continue
		}
		v.taken = true
		c := claim{at: v.at}
		e := Entry{Quantity: "addition", Deed: "addition", Material: "sulphite", By: r.adder(v.at)}
		r.fill(&e, &c, v)
		c.e = e
		d.claims = append(d.claims, c)
	}
}

// sulphurOf is the quantity that the word for a part of the sulphur dioxide names.
func sulphurOf(w string) string {
	switch w {
	case "free", "freie", "freies", "libre", "libero", "livre":
		return "free_so2"
	case "total", "gesamt", "totale", "totaal":
		return "total_so2"
	}
	return ""
}

// sulphurLetter is the part of the sulphur dioxide that the letter at i stands for: behind "so2"
// an f is what is free, and a t behind that the total. Alone a t is a temperature.
func sulphurLetter(toks []token, i int) string {
	switch fold := toks[i].fold; {
	case strings.HasPrefix(fold, "f"):
		if behindSulphur(toks, i) {
			return "free"
		}
	case strings.HasPrefix(fold, "t"):
		for k := i - 1; k > 0 && k >= i-4; k-- {
			if toks[k].fold == "free" && len(toks[k].text) == 1 {
				return "total"
			}
		}
	}
	return ""
}

// behindSulphur reports "so2" right before token i, or with a colon between.
func behindSulphur(toks []token, i int) bool {
	k := i - 1
	for k > 0 && (toks[k].text == ":" || toks[k].text == "=") {
		k--
	}
	return k >= 0 && toks[k].fold == "so2"
}

// otherSulphite reads "so2 free 27, total 68": what the other figure is of was said once.
func (r *reader) otherSulphite(d *draft, v *value) bool {
	q, at := "", -1
	if v.at > 0 {
		if at = v.at - 1; at > 0 && r.items[at].punct("=") {
			at--
		}
		q = sulphurOf(r.items[at].fold)
	}
	if q == "" && v.end < len(r.items) {
		q, at = sulphurOf(r.items[v.end].fold), v.end
	}
	if q == "" || gravityShaped(v.n) && v.n.decimals > 1 {
		return false
	}
	of := false
	for i := range d.values {
		w := &d.values[i]
		of = of || w != v && (w.q == "free_so2" || w.q == "total_so2" || w.q == "ph" && w.label)
	}
	for i := 0; i < len(r.items) && !of; i++ { // "ran the so2 kit: 28 free"
		of = r.items[i].name(cLabel) == "free_so2" || r.items[i].name(cMaterial) == "sulphite"
	}
	if !of {
		return false
	}
	v.q, v.unit, v.label = q, labelUnit[q], true
	r.items[at].used = "label"
	return true
}
