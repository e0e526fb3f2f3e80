package parse

// sulphiteBeside reads "free 14" and "61 total" of the sulphur dioxide: what is free or
// total in mg/L is nothing else, and without a unit where its label stands just before.
func (r *reader) sulphiteBeside(v *value) string {
	if v.unit != "" && v.unit != "mg/L" || v.q == "temp" {
		return ""
	}
	p := v.at - 1
	if p >= 0 {
		if q := sulphurOf(r.items[p].fold); q != "" {
			for p--; p >= 0 && (r.items[p].punct(":") || r.items[p].punct("=")); p-- {
			}
			if v.unit == "mg/L" || p >= 0 && r.items[p].name(cLabel) == "free_so2" {
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

// otherSulphite reads "so2 free 27, total 68": what the other figure is of was said once.
func (r *reader) otherSulphite(d *draft, v *value) bool {
	q, at := "", -1
	if v.at > 0 {
		q, at = sulphurOf(r.items[v.at-1].fold), v.at-1
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
