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

// listed reports a material joined to one that went in: "2 g tannin and
// pectolase". The verb is said once for the whole list.
func (r *reader) listed(k int) bool {
	return k > 1 && (r.items[k-1].fold == "and" || r.items[k-1].punct(",") || r.items[k-1].punct("&") || r.items[k-1].punct("+")) && r.items[k-2].used == "material"
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

// materialOf finds what an amount is of: behind it ("3 g nutrient"), else
// before it ("nutrient: 3 g"); -1 if nothing is near. Behind comes first,
// because "500 g sugar" is how amounts are said; before it only if a
// colon, a comma or nothing stands between. Units of time, bottles and
// percent never measure a material.
func (r *reader) materialOf(v *value, taken map[int]bool) int {
	if v.label || v.q != "amount" && v.q != "bare" || v.taken {
		return -1
	}
	if u := v.unit; timeUnit(u) || u == "bottle" || u == "half bottle" || u == "points" || u == "%" {
		return -1
	}
	for k := v.end; k < len(r.items) && k < v.end+4; k++ {
		k = r.behindStrength(k)
		it := &r.items[k]
		if it.name(cMaterial) != "" && !taken[k] && it.used == "" {
			if p := v.at - 1; p >= 0 && it.name(cMaterial) == "water" && (r.items[p].fold == "in" || r.items[p].fold == "dissolved in" || r.items[p].fold == "into") && len(taken) > 0 {
				v.taken, it.used = true, "dissolved" // what it was dissolved in
				return -1
			}
			if isVolumeUnit(v.unit) && r.wineItself(it) {
				return -1
			}
			if v.q == "bare" && (gravityShaped(v.n) || v.v > 50) {
				return -1
			}
			if v.q == "bare" && k+1 < len(r.items) && r.items[k+1].name(cNoun) != "" { // "2 cinnamon sticks"
				v.unit = r.items[k+1].name(cNoun)
				r.items[k+1].used = "unit"
				return k
			}
			if v.q == "bare" && it.name(cMaterial) != "campden" && !r.countedThing(v, it) {
				return -1
			}
			return k
		}
		if it.used != "" && it.used != "thing" || it.used == "" && !skipToMaterial(it) { // "1 kg of heather honey"
			break
		}
	}
	if k := v.at - 1; v.q == "bare" && k >= 0 && r.items[k].name(cMaterial) == "campden" && !taken[k] && v.n.whole() && v.v <= 20 { // "tablets 2"
		return k
	}
	if v.unit == "tablet" {
		for k := range r.items { // "1 campden per gallon, so 5 tablets"
			if r.items[k].name(cMaterial) == "campden" && !taken[k] && r.items[k].used == "" && k > 0 && r.items[k-1].used == "rate" {
				return k
			}
		}
	}
	if v.q == "bare" || v.at > 0 && r.items[v.at-1].fold == "to" && isVolumeUnit(v.unit) {
		return -1
	}
	for k := v.at - 1; k >= 0 && k >= v.at-6; k-- {
		it := &r.items[k]
		if it.name(cMaterial) != "" && !taken[k] && it.used == "" {
			if r.takenOff(k) {
				return -1
			}
			return k
		}
		if it.used == "time" || it.is(cVerb) && it.used == "" && k < v.at-1 || it.batch > 0 && k == v.at-2 && r.items[v.at-1].punct(",") && massOrCount(v.unit) && !isVolumeUnit(v.unit) { // "sulphited the pinot, 2 g"
			continue
		}
		if it.punct(",") && massOrCount(v.unit) && !isVolumeUnit(v.unit) && (v.end == len(r.items) || r.items[v.end].breaks()) {
			continue
		}
		if !it.punct(":") && !it.punct("-") && !it.punct("=") && !it.is(cFill) && !it.punct("(") {
			break
		}
	}
	return -1
}

// countedThing: "3 cloves in": a plural keeps its noun as the unit.
// Without a verb a count of things is talk: "3 cloves".
func (r *reader) countedThing(v *value, it *item) bool {
	one := v.n.val == 1 && (it.name(cMaterial) == "egg white" || it.name(cMaterial) == "spice")
	return v.n.whole() && v.n.val <= 50 && (one || strings.HasSuffix(it.fold, "s")) && r.near(v.at, cVerb)
}

// skipToMaterial lets the usual adjectives stand between amount and
// material.
func skipToMaterial(it *item) bool {
	switch it.fold {
	case "of", "the", "more", "extra", "some", "de", "d", "d'", "di", "del", "van", "(", "into", "level", "heaped", "crushed", "dry", "boiled", "fresh", "potassium", "cooled", "powdered", "granulated", "dissolved", "dried", "clean", "cold", "warm", "good", "du", "da", "do", "av", "von", "strong", "each", "chopped", "liquid", "organic", "clear", "runny", "light", "dark", "medium", "toast", "french", "american":
		return true
	}
	return it.is(cKind) || it.is(cFruit)
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

// unknownMaterial books "added 20 g hops": an amount put in of something
// that the lexicon does not know. A verb of adding must stand near, or any
// recipe would be read as one. Nothing is refused for not being in the
// lexicon: the household's hops are its own affair.
func (r *reader) unknownMaterial(d *draft) {
	alone := r.fruitAlone()
	for i := range d.values {
		v := &d.values[i]
		if v.taken || v.label || v.q != "amount" || isVolumeUnit(v.unit) && !r.verbBefore(v.at) || !massOrCount(v.unit) || !r.wentIn(v.at) && !r.begins && !alone && !r.ontoIt(v.at) {
			continue
		}
		k := v.end
		for k < len(r.items) && skipToMaterial(&r.items[k]) && !(k > v.end && r.items[k].fold == "into") {
			k++
		}
		if k == len(r.items) && (r.begins || alone || k > v.end && r.items[k-1].is(cFruit)) || k < len(r.items) && r.items[k].breaks() || k < len(r.items) && k > v.end && !r.items[k].is(cFruit) && r.items[k-1].is(cFruit) {
			k-- // a fruit is passed over before a material, but here it is what went in
		}
		if k < v.end || k >= len(r.items) || r.items[k].kind != tWord || len(r.items[k].senses) > 0 && !r.items[k].is(cFruit) && !r.items[k].is(cGuard) || r.items[k].batch > 0 && !r.items[k].nearName {
			continue
		}
		from := k
		for k < len(r.items) && r.items[k].kind == tWord && (len(r.items[k].senses) == 0 || k == from) {
			r.items[k].used = "material"
			k++
		}
		v.taken = true
		e := Entry{Quantity: "addition", Deed: "addition", Material: strings.ToLower(r.text[r.items[from].start:r.items[k-1].end]), By: r.adder(v.at)}
		c := claim{at: v.at, strange: true}
		r.fill(&e, &c, v)
		c.e = e
		d.claims = append(d.claims, c)
	}
}

// countedFruit books "12 oranges" of a batch that begins: the fruit is the unit.
func (r *reader) countedFruit(d *draft) {
	for i := range d.values {
		v := &d.values[i]
		if v.taken || v.q != "bare" || !v.n.whole() || v.v > 500 || v.end >= len(r.items) {
			continue
		}
		it := &r.items[v.end]
		if !it.is(cFruit) || it.used != "" && it.used != "name" || !strings.HasSuffix(it.fold, "s") {
			continue
		}
		v.taken, v.unit, it.used = true, singular(it.fold), "material"
		e := Entry{Quantity: "addition", Deed: "addition", Material: it.fold}
		c := claim{at: v.at}
		r.fill(&e, &c, v)
		c.e = e
		d.claims = append(d.claims, c)
	}
}

// singular is a plural of English without its ending.
func singular(w string) string {
	for _, x := range [][2]string{{"ies", "y"}, {"ches", "ch"}, {"shes", "sh"}, {"goes", "go"}, {"toes", "to"}, {"s", ""}} {
		if s, ok := strings.CutSuffix(w, x[0]); ok {
			return s + x[1]
		}
	}
	return w
}

// headMaterial gives the material that opens a list to its amounts: "Nutrient: pinot 6 g,
// feijoa 2.5 g".
func (r *reader) headMaterial(d *draft) {
	if len(r.items) < 4 || r.items[0].name(cMaterial) == "" || r.items[0].batch > 0 || r.items[0].used != "" || !r.items[1].punct(":") {
		return
	}
	n := 0
	for i := range d.values {
		v := &d.values[i]
		if !v.taken && v.q == "amount" && massOrCount(v.unit) && v.at > 0 && r.items[v.at-1].batch > 0 {
			n++
		}
	}
	if n < 2 {
		return
	}
	for i := range d.values {
		if v := &d.values[i]; !v.taken && v.q == "amount" && massOrCount(v.unit) && v.at > 0 && r.items[v.at-1].batch > 0 {
			r.items[0].used = ""
			r.addAddition(d, v, 0)
			d.claims[len(d.claims)-1].at = v.at
		}
	}
}

// fruitAlone reports a weight of fruit and nothing else, in private, while the batch that
// is meant still takes fruit: "15 lb blackberries" is what went in.
func (r *reader) fruitAlone() bool {
	i := r.index(r.meantBatch())
	if r.ctx.Group || i == 0 {
		return false
	}
	switch r.ctx.Batches[i-1].Stage {
	case "", "must", "lag", "primary":
	default:
		return false
	}
	fruit := false
	for k := range r.items {
		it := &r.items[k]
		switch {
		case it.is(cFruit):
			fruit = fruit || k > 1
		case it.kind == tNum || it.is(cUnit) || it.used != "" || it.kind == tPunct || it.is(cFill) || it.batch > 0 || it.is(cKind):
		default:
			return false
		}
	}
	return fruit
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
