package parse

import "strings"

// takesMaterial names the deeds under which something put in is booked.
// Under other deeds a material is an addition of its own: "racked, 2 g
// sulphite".
func takesMaterial(name string) bool {
	switch name {
	case "pitched", "topped up", "fined", "stabilised", "sweetened", "blended", "must made", "mlf started":
		return true
	}
	return false
}

// hasVerb reports that the text says something went in. Other languages'
// words for it are in the lexicon too.
func (r *reader) hasVerb() bool {
	for i := range r.items {
		if r.items[i].is(cVerb) && r.items[i].used == "" && !r.denied(i) {
			return true
		}
	}
	return false
}

// pairMaterials joins amounts and materials to additions. Amounts choose
// their material first, so that what is left over has none. Without a verb
// and without a deed a material alone is talk: "sugar" stores nothing.
func (r *reader) pairMaterials(d *draft) {
	taken := map[int]bool{}
	r.headMaterial(d)
	for i := range d.values {
		v := &d.values[i]
		if m := r.materialOf(v, taken); m >= 0 {
			taken[m] = true
			r.addAddition(d, v, m)
		}
	}
	r.bacteriaIn(d)
	r.eachMaterial(d, taken)
	r.inAll(d)
	r.sameMaterial(d)
	into := r.intoNamed()
	if !r.hasVerb() && len(d.deeds) == 0 && !into {
		if r.begins || r.namedBatch() > 0 || r.fruitAlone() {
			r.unknownMaterial(d)
		}
		return
	}
	for k := range r.items {
		it := &r.items[k]
		if taken[k] || it.used != "" || it.name(cMaterial) == "" || it.batch > 0 {
			continue
		}
		if !r.bareMaterial(d, k) && !(into && k == 0) {
			continue
		}
		r.addAddition(d, nil, k)
	}
	r.unknownMaterial(d)
	r.dosedAlone(d)
	d.sulphiteOnce()
}

// bacteriaIn gives the weight right before "malolactic bacteria in" to that deed.
func (r *reader) bacteriaIn(d *draft) {
	for i := range d.deeds {
		x := &d.deeds[i]
		if x.name != "mlf started" || !strings.Contains(r.items[x.at].fold, "bacteria") && !strings.Contains(r.items[x.at].fold, "culture") {
			continue
		}
		for j := range d.values {
			v := &d.values[j]
			if v.taken || v.q != "amount" || isVolumeUnit(v.unit) || !massOrCount(v.unit) || v.end != x.at && !(v.end+1 == x.at && r.items[v.end].fold == "of") {
				continue
			}
			v.taken = true
			x.claims++
			e := Entry{Quantity: "addition", Material: "bacteria", Deed: x.name, By: x.by}
			c := claim{at: v.at}
			r.fill(&e, &c, v)
			c.e = e
			d.claims = append(d.claims, c)
			break
		}
	}
}

// sulphiteOnce drops the bare word of "sulphited, 1 campden": the tablet is the
// sulphite.
func (d *draft) sulphiteOnce() {
	sulphite := func(c *claim) bool { return c.e.Material == "sulphite" || c.e.Material == "campden" }
	measured := false
	for i := range d.claims {
		measured = measured || sulphite(&d.claims[i]) && d.claims[i].e.Value != nil
	}
	out := d.claims[:0]
	for _, c := range d.claims {
		if !measured || !sulphite(&c) || c.e.Value != nil {
			out = append(out, c)
		}
	}
	d.claims = out
}

// eachMaterial gives the amount of "1 tsp each of nutrient and tannin" to the
// other materials of the list.
func (r *reader) eachMaterial(d *draft, taken map[int]bool) {
	for i := range d.values {
		v := &d.values[i]
		if !v.taken || v.end >= len(r.items) || r.items[v.end].fold != "each" {
			continue
		}
		for k := v.end + 1; k < len(r.items); k++ {
			it := &r.items[k]
			if it.name(cMaterial) != "" && it.used == "" && !taken[k] {
				taken[k] = true
				r.addAddition(d, v, k)
			} else if it.used != "material" && it.kind != tPunct && it.fold != "and" && !it.is(cFill) {
				break
			}
		}
	}
}

// sameMaterial: "3 g nutrient in gorse and 2 g in the damson". The
// material is said once, the batches twice.
func (r *reader) sameMaterial(d *draft) {
	if d.scopes == nil || len(d.scopes.batches) < 2 || len(d.claims) == 0 {
		return
	}
	last := &d.claims[len(d.claims)-1].e
	for i := range d.values {
		v := &d.values[i]
		if v.taken || v.q != "amount" || v.unit != last.Unit || last.Material == "" || d.scopes.batch(v.at) == d.scopes.batch(d.claims[0].at) {
			continue
		}
		v.taken = true
		e := Entry{Quantity: last.Quantity, Material: last.Material, Deed: last.Deed, By: last.By}
		c := claim{at: v.at}
		r.fill(&e, &c, v)
		c.e = e
		d.claims = append(d.claims, c)
	}
}

// bareMaterial decides whether a material without amount was put in. Wine,
// fruit and yeast are named in so many other ways that a verb beside them
// is not enough. "in water", "of juice" say where something was dissolved.
func (r *reader) bareMaterial(d *draft, k int) bool {
	it := &r.items[k]
	m := it.name(cMaterial)
	if m == "wine" || m == "fruit" || m == "bacteria" && r.hasDeedNamed(d, "mlf started") || m == "yeast" && !r.near(k, cVerb) {
		return false
	}
	if it.is(cTType) || it.is(cStarter) || (m == "water" || m == "sugar syrup") && r.solvent(k) {
		return false
	}
	if r.onSomebody(k) {
		return false
	}
	if it.is(cVerb) {
		return !r.ofVessels(k + 1)
	}
	if (m == "water" || m == "juice") && r.hasDeedNamed(d, "topped up") && d.openVolume() {
		return false // the toppings of the message are of it
	}
	if (m == "water" || m == "juice") && k > 0 {
		switch r.items[k-1].fold {
		case "in", "of", "into", "from", "bit of", "some":
			return false
		}
	}
	x := d.deedAt(k, takesMaterial)
	if x != nil && x.at < k || r.listed(k) {
		return true
	}
	if k+2 < len(r.items) && (r.items[k+1].fold == "and" || r.items[k+1].punct(",") || r.items[k+1].punct("&") || r.items[k+1].punct("+")) && r.items[k+2].name(cMaterial) != "" {
		return r.near(k, cVerb) || r.near(k+2, cVerb) // "k-meta and sorbate in"
	}
	return r.near(k, cVerb)
}

// openVolume reports a volume that no material has taken.
func (d *draft) openVolume() bool {
	for i := range d.values {
		if v := &d.values[i]; !v.taken && isVolumeUnit(v.unit) {
			return true
		}
	}
	return false
}

// near reports a word of that class within the clause, at most four items
// away. "and" ends a clause, so the verb of the next deed does not count.
func (r *reader) near(k int, c class) bool {
	from, to := r.clauseOf(k)
	for j := max(from, k-4); j < min(to, k+4); j++ {
		if j != k && r.items[j].is(c) && r.items[j].used == "" {
			return true
		}
	}
	return false
}

// addAddition books a material with or without its amount. Topping up has
// its own quantity where the amount is a volume: the wine's volume grows
// by it, while an addition is weighed.
func (r *reader) addAddition(d *draft, v *value, k int) {
	it := &r.items[k]
	it.used = "material"
	e := Entry{Quantity: "addition", Material: it.name(cMaterial), Deed: "addition"}
	c := claim{at: k}
	if x := d.deedAt(k, takesMaterial); x != nil && (x.at < k || len(d.deeds) == 1 && !r.pitchedAfter(x, k)) {
		if x.name == "topped up" {
			if v == nil || isVolumeUnit(v.unit) {
				e.Quantity = "topping"
			}
		}
		e.Deed, e.By = x.name, x.by
		x.claims++
	} else {
		if e.Material == "yeast" && v != nil { // "a sachet of yeast on top"
			e.Deed = "pitched"
		}
		e.By = r.adder(k)
		at := k
		if v != nil {
			at = min(k, v.at)
		}
		if x := d.deedAt(k, anyDeed); x != nil && x.at < at && r.ontoIt(at) {
			x.claims++
		}
	}
	if v != nil {
		v.taken = true
		c.at = v.at
		if v.unit == "" && e.Material == "campden" {
			v.unit = "tablet"
		} else if v.unit == "" {
			v.unit = strings.TrimSuffix(it.fold, "s")
		}
		r.fill(&e, &c, v)
	}
	if e.Material == "campden" && e.Value == nil {
		e.Material = "sulphite"
	}
	c.e = e
	d.claims = append(d.claims, c)
}

// ontoIt reports "racked on to 1 campden tablet": what the wine was racked onto is
// all that the deed needs said of it.
func (r *reader) ontoIt(k int) bool {
	if k > 0 && (r.items[k-1].fold == "onto" || r.items[k-1].fold == "onto the" || r.items[k-1].fold == "on") {
		return true
	}
	return k > 1 && (r.items[k-1].fold == "to" || r.items[k-1].fold == "top of") && r.items[k-2].fold == "on"
}

// adder is the person before "added". The verb's subject is found like a
// deed's.
func (r *reader) adder(k int) string {
	from, _ := r.clauseOf(k)
	for j := from; j < k; j++ {
		if r.items[j].is(cVerb) && r.items[j].used == "" {
			return r.doer(j)
		}
	}
	return ""
}

// verbBefore wants the verb itself: "in" and "into" alone say where.
func (r *reader) verbBefore(k int) bool {
	from, _ := r.clauseOf(k)
	for j := from; j < k; j++ {
		if r.items[j].is(cVerb) && r.items[j].fold != "in" && r.items[j].fold != "into" {
			return true
		}
	}
	return false
}

// massOrCount reports a unit in which something can be put in.
func massOrCount(u string) bool {
	if timeUnit(u) {
		return false
	}
	switch u {
	case "", "bottle", "half bottle", "points", "%", "%vol", "g/L", "mg/L", "g/100mL", "g/hL":
		return false
	}
	return true
}

// isVolumeUnit reports the units of volume, as the lexicon names them.
func isVolumeUnit(u string) bool {
	switch u {
	case "L", "mL", "cL", "hL", "gal", "USgal", "impgal", "pint", "quart", "floz":
		return true
	}
	return false
}
