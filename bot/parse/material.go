package parse

import "strings"

// listed reports a material joined to one that went in: "2 g tannin and
// pectolase". The verb is said once for the whole list.
func (r *reader) listed(k int) bool {
	return k > 1 && (r.items[k-1].fold == "and" || r.items[k-1].punct(",") || r.items[k-1].punct("&") || r.items[k-1].punct("+")) && r.items[k-2].used == "material"
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
		if it.punct(",") && massOrCount(v.unit) && !isVolumeUnit(v.unit) && (v.end == len(r.items) || r.items[v.end].breaks() || r.dissolvedBehind(v.end)) {
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
