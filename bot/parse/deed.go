package parse

import "strings"

// deed is something that the message says was done.
type deed struct {
	at, end int
	name    string
	by      string
	claims  int // what the message gives it
}

// findDeeds finds what was done and by whom. A deed denied is none.
func (r *reader) findDeeds() []deed {
	var ds []deed
	for i := range r.items {
		it := &r.items[i]
		name := it.name(cDeed)
		if name == "" || it.used != "" || it.batch > 0 || r.denied(i) || r.deedInName(i) {
			continue
		}
		if len(ds) > 0 && ds[len(ds)-1].name == name {
			ds[len(ds)-1].end = i + 1
			it.used = "deed"
			continue
		}
		d := deed{at: i, end: i + 1, name: name}
		d.by = r.doer(i)
		it.used = "deed"
		ds = append(ds, d)
	}
	return r.quietDeeds(ds)
}

// quietDeeds drops a vague word beside a plainer deed: "tastes" beside "bottled".
func (r *reader) quietDeeds(ds []deed) []deed {
	if len(ds) < 2 {
		return ds
	}
	out := ds[:0]
	for _, d := range ds {
		if d.name == "working" || d.name == "given away" && ds[len(ds)-1].name == "stirred" {
			r.items[d.at].used = ""
			continue
		}
		out = append(out, d)
	}
	return out
}

// deedInName keeps "must made of …" and adjectives from counting.
func (r *reader) deedInName(i int) bool {
	it := &r.items[i]
	return it.slip && it.is(cGuard)
}

// denied reports "not racked yet", "haven't stirred".
func (r *reader) denied(i int) bool {
	for k := i - 1; k >= 0 && k >= i-3; k-- {
		switch r.items[k].fold {
		case "not", "haven't", "havent", "hasn't", "hasnt", "didn't", "didnt", "never", "nobody", "don't", "isn't", "wasn't", "nicht", "pas", "non", "nao", "niet", "nie", "inte", "ne", "unless", "without":
			return true
		}
		if r.items[k].breaks() {
			return false
		}
	}
	return false
}

// doer is the person before the deed: a member, a kin word, or an unknown word
// that opens the clause ("Sal punched down").
func (r *reader) doer(i int) string {
	k := i - 1
	for k >= 0 && (r.items[k].fold == "has" || r.items[k].fold == "have" || r.items[k].fold == "just" || r.items[k].fold == "also" || r.items[k].fold == "already" || r.items[k].used == "time") {
		k--
	}
	if k < 0 {
		return ""
	}
	it := &r.items[k]
	if it.kind != tWord || it.batch > 0 || it.used != "" {
		return ""
	}
	if r.isMember(it.fold) {
		return r.claimDoer(it)
	}
	if it.is(cPerson) || len(it.senses) == 0 && r.opens(k) && len(it.fold) >= 2 && !strings.Contains(it.fold, "'") {
		return r.claimDoer(it)
	}
	return ""
}

func (r *reader) claimDoer(it *item) string {
	it.used = "by"
	if fold(r.ctx.Sender) == it.fold {
		return ""
	}
	return it.text
}

func (r *reader) isMember(w string) bool {
	for _, m := range r.ctx.Members {
		if fold(m) == w {
			return true
		}
	}
	return false
}

// opens reports that item k begins its clause, but for a time.
func (r *reader) opens(k int) bool {
	for j := k - 1; j >= 0; j-- {
		if r.items[j].used == "time" {
			continue
		}
		return r.items[j].breaks() || r.items[j].punct(":") || r.items[j].fold == "and" || r.items[j].fold == "my"
	}
	return true
}

// deedAt is the deed that governs item k: the last one before it, else the next.
func (d *draft) deedAt(k int, fits func(string) bool) *deed {
	var best *deed
	for i := range d.deeds {
		x := &d.deeds[i]
		if !fits(x.name) {
			continue
		}
		if x.at < k || best == nil {
			best = x
		}
	}
	return best
}

func anyDeed(string) bool { return true }

// takesMaterial names the deeds under which something put in is booked.
func takesMaterial(name string) bool {
	switch name {
	case "pitched", "topped up", "fined", "stabilised", "sweetened", "blended", "must made", "mlf started":
		return true
	}
	return false
}

// hasVerb reports that the text says something went in.
func (r *reader) hasVerb() bool {
	for i := range r.items {
		if r.items[i].is(cVerb) && r.items[i].used == "" {
			return true
		}
	}
	return false
}

// pairMaterials joins amounts and materials to additions.
func (r *reader) pairMaterials(d *draft) {
	taken := map[int]bool{}
	for i := range d.values {
		v := &d.values[i]
		if m := r.materialOf(v, taken); m >= 0 {
			taken[m] = true
			r.addAddition(d, v, m)
		}
	}
	if !r.hasVerb() && len(d.deeds) == 0 {
		return
	}
	for k := range r.items {
		it := &r.items[k]
		if taken[k] || it.used != "" || it.name(cMaterial) == "" || it.batch > 0 {
			continue
		}
		if !r.bareMaterial(d, k) {
			continue
		}
		r.addAddition(d, nil, k)
	}
	r.sameMaterial(d)
	r.unknownMaterial(d)
}

// sameMaterial: "3 g nutrient in gorse and 2 g in the damson".
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

// bareMaterial decides whether a material without amount was put in.
func (r *reader) bareMaterial(d *draft, k int) bool {
	it := &r.items[k]
	m := it.name(cMaterial)
	if m == "wine" || m == "fruit" || m == "yeast" && !r.near(k, cVerb) {
		return false
	}
	if it.is(cTType) || it.is(cStarter) {
		return false
	}
	if it.is(cVerb) {
		return true
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
	return r.near(k, cVerb)
}

// listed reports a material joined to one that went in: "2 g tannin and pectolase".
func (r *reader) listed(k int) bool {
	return k > 1 && (r.items[k-1].fold == "and" || r.items[k-1].punct(",") || r.items[k-1].punct("&") || r.items[k-1].punct("+")) && r.items[k-2].used == "material"
}

// near reports a word of that class within the clause, at most four items away.
func (r *reader) near(k int, c class) bool {
	from, to := r.clauseOf(k)
	for j := max(from, k-4); j < min(to, k+4); j++ {
		if j != k && r.items[j].is(c) && r.items[j].used == "" {
			return true
		}
	}
	return false
}

// materialOf finds what an amount is of: behind it ("3 g nutrient"), else before
// it ("nutrient: 3 g"); -1 if nothing is near.
func (r *reader) materialOf(v *value, taken map[int]bool) int {
	if v.label || v.q != "amount" && v.q != "bare" || v.taken {
		return -1
	}
	if u := v.unit; u == "min" || u == "hour" || u == "day" || u == "week" || u == "month" || u == "bottle" || u == "half bottle" || u == "points" || u == "%" {
		return -1
	}
	for k := v.end; k < len(r.items) && k < v.end+4; k++ {
		it := &r.items[k]
		if it.name(cMaterial) != "" && !taken[k] && it.used == "" {
			if v.q == "bare" && (gravityShaped(v.n) || v.v > 50) {
				return -1
			}
			if v.q == "bare" && it.name(cMaterial) != "campden" && !r.countedThing(v, it) {
				return -1
			}
			return k
		}
		if it.used != "" || !skipToMaterial(it) {
			break
		}
	}
	if v.q == "bare" || v.at > 0 && r.items[v.at-1].fold == "to" && isVolumeUnit(v.unit) {
		return -1
	}
	for k := v.at - 1; k >= 0 && k >= v.at-3; k-- {
		it := &r.items[k]
		if it.name(cMaterial) != "" && !taken[k] && it.used == "" {
			return k
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
func (r *reader) countedThing(v *value, it *item) bool {
	return v.n.whole() && v.n.val <= 50 && strings.HasSuffix(it.fold, "s") && r.near(v.at, cVerb)
}

func skipToMaterial(it *item) bool {
	switch it.fold {
	case "of", "the", "more", "extra", "some", "de", "d", "d'", "di", "del", "van", "(", "into", "level", "heaped", "crushed", "dry", "boiled", "fresh", "potassium", "cooled", "powdered", "granulated", "dissolved", "dried", "clean", "cold", "warm", "good", "du", "da", "do", "av", "von", "strong", "each", "chopped", "liquid", "organic", "clear", "runny", "light", "dark", "medium", "toast", "french", "american":
		return true
	}
	return it.is(cKind) || it.is(cFruit)
}

// addAddition books a material with or without its amount.
func (r *reader) addAddition(d *draft, v *value, k int) {
	it := &r.items[k]
	it.used = "material"
	e := Entry{Quantity: "addition", Material: it.name(cMaterial), Deed: "addition"}
	c := claim{at: k}
	if x := d.deedAt(k, takesMaterial); x != nil && (x.at < k || len(d.deeds) == 1) {
		if x.name == "topped up" {
			if v == nil || isVolumeUnit(v.unit) {
				e.Quantity = "topping"
			}
		}
		e.Deed, e.By = x.name, x.by
		x.claims++
	} else {
		e.By = r.adder(k)
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

// adder is the person before "added".
func (r *reader) adder(k int) string {
	from, _ := r.clauseOf(k)
	for j := from; j < k; j++ {
		if r.items[j].is(cVerb) && r.items[j].used == "" {
			return r.doer(j)
		}
	}
	return ""
}

// unknownMaterial books "added 20 g hops": an amount put in of something that the
// lexicon does not know.
func (r *reader) unknownMaterial(d *draft) {
	for i := range d.values {
		v := &d.values[i]
		if v.taken || v.label || v.q != "amount" || isVolumeUnit(v.unit) && !r.verbBefore(v.at) || !massOrCount(v.unit) || !r.near(v.at, cVerb) {
			continue
		}
		k := v.end
		for k < len(r.items) && skipToMaterial(&r.items[k]) {
			k++
		}
		if k >= len(r.items) || r.items[k].kind != tWord || len(r.items[k].senses) > 0 && !r.items[k].is(cFruit) && !r.items[k].is(cGuard) || r.items[k].batch > 0 && !r.items[k].nearName {
			continue
		}
		from := k
		for k < len(r.items) && r.items[k].kind == tWord && (len(r.items[k].senses) == 0 || k == from) {
			r.items[k].used = "material"
			k++
		}
		v.taken = true
		e := Entry{Quantity: "addition", Deed: "addition", Material: strings.ToLower(r.text[r.items[from].start:r.items[k-1].end]), By: r.adder(v.at)}
		c := claim{at: v.at}
		r.fill(&e, &c, v)
		c.e = e
		d.claims = append(d.claims, c)
	}
}

func (r *reader) verbBefore(k int) bool {
	from, _ := r.clauseOf(k)
	for j := from; j < k; j++ {
		if r.items[j].is(cVerb) && r.items[j].fold != "in" && r.items[j].fold != "into" {
			return true
		}
	}
	return false
}

func massOrCount(u string) bool {
	switch u {
	case "", "min", "hour", "day", "week", "month", "bottle", "half bottle", "points", "%", "%vol", "g/L", "mg/L", "g/100mL", "g/hL":
		return false
	}
	return true
}

func isVolumeUnit(u string) bool {
	switch u {
	case "L", "mL", "cL", "hL", "gal", "USgal", "impgal", "pint", "quart", "floz":
		return true
	}
	return false
}
