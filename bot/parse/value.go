package parse

import "strings"

// value is a number of the message with what it was taken for.
type value struct {
	at, end int    // items
	q       string // quantity; "amount" with a unit; "bare" without any
	v       float64
	n       number
	unit    string // contract's unit, or a noun
	typ     string // must, sample, cap
	label   bool   // a label or a unit says what it is
	approx  bool
	ask     string // digits, magnitude, unit, temp_unit, gallon
	taken   bool
}

// unitQuantity says which quantity a unit alone names.
var unitQuantity = map[string]string{"C": "temp", "F": "temp", "deg": "temp", "Bx": "brix", "Blg": "balling", "Oe": "oechsle", "Be": "baume", "KMW": "kmw", "%vol": "abv"}

// labelUnit is the unit of a labelled quantity that was typed without one.
var labelUnit = map[string]string{"sg": "sg", "og": "sg", "target_sg": "sg", "ph": "pH", "free_so2": "mg/L", "total_so2": "mg/L", "abv": "%vol", "brix": "Bx", "balling": "Blg", "oechsle": "Oe", "baume": "Be", "kmw": "KMW"}

// findValues reads every number that no time and no name has claimed. What
// a value covers is marked, so that its words are not weighed as unknown.
func (r *reader) findValues() []value {
	var vs []value
	for i := 0; i < len(r.items); {
		v, ok := r.valueAt(i)
		if !ok {
			i++
			continue
		}
		for k := v.at; k < v.end; k++ {
			if r.items[k].used == "" {
				r.items[k].used = "value"
			}
		}
		vs = append(vs, v)
		i = v.end
	}
	r.roomAlone(vs)
	return vs
}

// roomAlone gives a lone temperature to the room that the text names
// anywhere. "garage is cold, 9c": the room may stand in another clause if
// nothing else was measured.
func (r *reader) roomAlone(vs []value) {
	if len(vs) != 1 || vs[0].q != "temp" || vs[0].typ != "" {
		return
	}
	for i := range r.items {
		j := i - 1
		for j > 0 && r.items[j].fold == "the" {
			j--
		}
		if r.namesTool(i) || r.namedApart(vs[0].at, i) { // "the kitchen thermometer", "kitchen's warm, plum is 23c"
			continue
		}
		if r.items[i].is(cAmbient) && r.items[i].used == "" && !(j >= 0 && (r.items[j].fold == "to" || r.items[j].fold == "into")) { // "moved it to the shed"
			vs[0].typ = "room"
		}
	}
}

// valueAt reads a number with its unit and label at item i. "a" and "half
// a" count as numbers before a unit. Identities, times and questions have
// claimed their numbers before.
func (r *reader) valueAt(i int) (value, bool) {
	it := &r.items[i]
	if it.used != "" || it.batch > 0 {
		return value{}, false
	}
	v := value{at: i, end: i + 1}
	switch {
	case it.kind == tNum:
		v.n, v.v = it.num, it.num.val
		r.mixed(&v)
		r.andHalf(&v)
		r.dozens(&v)
	case it.kind == tWord:
		f, ok := it.wordCount()
		if !ok && r.spoonful(i) { // "heaped tsp of nutrient"
			f, ok = 1, true
		}
		if it.name(cNumber) == ".5" && i > 1 && r.items[i-1].fold == "and" && r.items[i-2].name(cUnit) == "bottle" { // "29 bottles and a half"
			v.v, v.unit, v.q = 1, "half bottle", "amount"
			v.n = number{typed: it.text, val: 1, decimals: -1}
			return v, true
		}
		if !ok && !r.oneMore(i) {
			return v, false
		} else if !ok {
			f = 1
		}
		v.v = f
		r.andHalf(&v)
		r.dozens(&v)
		if f = v.v; f >= 6 && (v.end > i+1 || it.name(cNumber) == "12d") && f == float64(int(f)) && (v.end == len(r.items) || !r.items[v.end].is(cUnit) && !r.items[v.end].is(cNoun)) { // "bottled a dozen"
			v.q, v.n = "bare", number{typed: r.text[it.start:r.items[v.end-1].end], val: f, decimals: -1}
			return v, true
		}
		for v.end < len(r.items) && (r.items[v.end].is(cArt) || r.items[v.end].fold == "of" || r.items[v.end].punct("-") && r.items[v.end].glued || r.measureAdjective(v.end)) {
			v.end++
		}
		if v.end < len(r.items) && r.items[v.end].name(cMaterial) == "campden" {
			v.n, v.v, v.q = number{typed: it.text, val: f, decimals: -1}, f, "bare"
			return v, true
		}
		if v.end >= len(r.items) || !r.items[v.end].is(cUnit) && !r.items[v.end].is(cNoun) && !r.fullOf(f, v.end) {
			return v, false
		}
		if r.items[v.end].fold == "el" && !it.of("de") { // "en el gamay" counts no spoon
			return v, false
		}
		if u := r.items[v.end].name(cUnit); !countable(u) && r.items[v.end].name(cNoun) == "" && !r.fullOf(f, v.end) {
			return v, false
		}
		v.n, v.v = number{typed: r.text[it.start:r.items[max(v.end-1, i)].end], val: f, decimals: -1, fraction: f != float64(int(f))}, f
	default:
		return v, false
	}
	r.unitOf(&v)
	r.belowZero(&v)
	if v.unit != "" && v.unit != "bottle" && v.n.whole() {
		r.andHalf(&v) // "a pound and a half"
	}
	r.poundsOunces(&v)
	r.labelOf(&v)
	return v, true
}

// belowZero reads "minus 2 degrees" and "2 degrees below zero".
func (r *reader) belowZero(v *value) {
	if v.q != "temp" || v.v <= 0 {
		return
	}
	below := v.at > 0 && r.items[v.at-1].fold == "minus"
	if k := v.end; k+1 < len(r.items) && (r.items[k].fold == "below" || r.items[k].fold == "under") && (r.items[k+1].fold == "zero" || r.items[k+1].fold == "freezing" || r.items[k+1].fold == "0") {
		below, v.end = true, k+2
	}
	if below {
		v.v, v.n.val = -v.v, -v.n.val
	}
}

// measureAdjective reports the words that say how full a spoon was.
func (r *reader) measureAdjective(k int) bool {
	switch r.items[k].fold {
	case "heaped", "level", "rounded", "scant", "generous", "big", "small", "good", "full", "heaping":
		return k+1 < len(r.items) && (r.items[k+1].is(cUnit) || r.items[k+1].is(cNoun))
	}
	return false
}

// poundsOunces joins "1 lb 4 oz" to one amount in pounds. The sum is in
// pounds; the digits stay as typed.
func (r *reader) poundsOunces(v *value) {
	k := v.end
	if v.unit != "lb" || k+1 >= len(r.items) || r.items[k].kind != tNum || r.items[k+1].name(cUnit) != "oz" {
		return
	}
	v.v += r.items[k].num.val / 16
	v.end = k + 2
	v.n.typed = r.text[r.items[v.at].start:r.items[v.end-1].end]
}

// countable units follow a word like "a" or "two". "a degree" and "two
// minutes" are said in other ways.
func countable(u string) bool {
	if timeUnit(u) {
		return false
	}
	switch u {
	case "", "C", "F", "deg", "%", "Bx", "Oe", "points":
		return false
	}
	return true
}

// mixed joins "1 1/2", "1½" and "1/2" to one number. A date or a score of
// the same form has been claimed or is out of range.
func (r *reader) mixed(v *value) {
	items := r.items
	frac := func(k int) (float64, int) {
		if k < len(items) && items[k].kind == tNum && items[k].num.fraction {
			return items[k].num.val, 1
		}
		if k+2 < len(items) && items[k].kind == tNum && items[k+1].punct("/") && items[k+2].kind == tNum && items[k].num.whole() && items[k+2].num.whole() {
			a, b := items[k].num.val, items[k+2].num.val
			if a > 0 && b > a && b <= 10 && items[k+1].glued && items[k+2].glued {
				return a / b, 3
			}
		}
		return 0, 0
	}
	if f, n := frac(v.at); n > 0 {
		v.v, v.end = f, v.at+n
	} else if f, n := frac(v.at + 1); n > 0 && v.n.whole() && v.n.val < 100 {
		v.v, v.end = v.n.val+f, v.at+1+n
	} else if f, n := frac(v.at + 2); n > 0 && v.n.whole() && v.n.val < 20 && (items[v.at+1].punct("-") || items[v.at+1].fold == "and") { // "1-1/2"
		v.v, v.end = v.n.val+f, v.at+2+n
	} else {
		return
	}
	v.n.fraction = true
	v.n.typed = r.text[items[v.at].start:items[v.end-1].end]
	v.n.val = v.v
}

// unitOf takes the unit behind the number, perhaps behind a bracket or
// "of". A degree sign may be followed by the scale it is of. Letters for
// Celsius behind a gravity are a slip of the finger: no must is 1.032 °C.
func (r *reader) unitOf(v *value) {
	if v.end < len(r.items) && v.n.val < 20 && r.measureAdjective(v.end) { // "3 heaped teaspoons"
		v.end++
	}
	if v.end >= len(r.items) {
		return
	}
	if r.oddDegree(v.end) {
		r.items[v.end].used = "unit"
		v.end++
	}
	u := &r.items[v.end]
	if u.used != "" && u.used != "time" {
		return
	}
	name := u.name(cUnit)
	if u.fold == "be" && u.text != "be" && u.text != "BE" { // "12,2 Bé": the verb is typed small
		name = "Be"
	}
	if u.fold == "el" && !v.n.whole() { // a spoon in German, an article in Spanish
		return
	}
	if name == "g" && (u.fold == "gr" || u.fold == "grd") && r.behindGravity(v) {
		name = "deg"
	}
	if u.batch > 0 && r.ctx.Batches[u.batch-1].bottled() && v.n.whole() && v.n.val < 200 { // "2 elder gone"
		v.unit, v.q = "bottle", "amount"
		return
	}
	if name == "" {
		if n := u.name(cNoun); n != "" {
			v.unit, v.q = n, "amount"
			v.end++
		} else if r.fullOf(v.v, v.end) {
			v.unit, v.q = strings.TrimSuffix(u.fold, "s"), "amount"
			v.end++
		}
		return
	}
	if u.used == "time" || !u.glued && r.unitIsWord(u, v.end) {
		return
	}
	v.unit = name
	v.end++
	if name == "half bottle" || name == "bottle" {
		v.q = "amount"
		return
	}
	if (name == "C" || name == "F") && v.n.decimals >= 2 && gravityShaped(v.n) {
		v.unit, v.end = "", v.end-1
		r.items[v.end].used = "slip"
		return
	}
	if name == "g/mL" { // a density is the gravity to the third decimal
		if v.unit = ""; gravityShaped(v.n) {
			v.q, v.label, v.unit = "sg", true, "sg"
		}
		return
	}
	if q := unitQuantity[name]; q != "" {
		v.q, v.label = q, true
		if name == "deg" && v.end < len(r.items) { // "82 degrees Oechsle"
			if n := r.items[v.end].name(cUnit); unitQuantity[n] != "" {
				v.unit, v.q = n, unitQuantity[n]
				v.end++
			}
		}
		return
	}
	v.q = "amount"
}

// oddDegree reports a sign that stands for the degree's between a number and its scale:
// "21*c", "19'C".
func (r *reader) oddDegree(k int) bool {
	if k+1 >= len(r.items) || !r.items[k].glued || !r.items[k+1].glued || r.items[k].kind != tPunct {
		return false
	}
	u := r.items[k+1].name(cUnit)
	return (u == "C" || u == "F") && (r.items[k].punct("*") || r.items[k].punct("'") || r.items[k].punct("’") || r.items[k].punct("^") || r.items[k].punct("~") || r.items[k].punct("\"") || r.items[k].punct("`") || r.items[k].punct("´"))
}

// behindGravity reports the second number of "1,044 19 gr.": degrees and no grams, where
// nothing that could be weighed follows.
func (r *reader) behindGravity(v *value) bool {
	k := v.at - 1
	for k >= 0 && (r.items[k].punct(",") || r.items[k].punct("/") || r.items[k].punct("-") || r.items[k].is(cPlain)) {
		k--
	}
	if k < 0 || !gravityItem(&r.items[k]) || v.n.val < 4 || v.n.val > 40 {
		return false
	}
	for k = v.end + 1; k < len(r.items); k++ {
		if r.items[k].is(cMaterial) || r.items[k].is(cVerb) {
			return false
		}
	}
	return true
}

// unitIsWord keeps short words that are also units from being taken as
// such where a space stands before them and something else speaks for the
// word. The letters c, f, l and g count as units with a blank before them
// too: households type "19 c".
func (r *reader) unitIsWord(u *item, k int) bool {
	switch u.fold {
	case "c", "f", "l", "g", "h":
		return false
	case "t", "a", "points", "point":
		return true
	}
	if u.fold == "gr" || u.fold == "grad" {
		return false
	}
	// "1.032 must 19": a unit sense that is also a plain word of the cellar.
	return u.is(cTType) || u.is(cMonth)
}

// labelOf finds the label of a number: just before it, or just behind it.
// The nearest label wins; signs, other numbers and deeds end the search.
// Rooms and samples on the way say where a temperature was taken.
func (r *reader) labelOf(v *value) {
	if q := r.sulphiteBeside(v); q != "" {
		r.setLabel(v, q)
		return
	}
	for k := v.at - 1; k >= 0 && k >= v.at-6; k-- {
		it := &r.items[k]
		if it.used == "time" {
			continue
		}
		if it.punct(",") && k == 1 && r.items[0].name(cLabel) != "" && r.items[k+1].batch > 0 { // "Brix, feijoa: 13.8"
			continue
		}
		if it.kind == tNum || it.used == "value" || it.kind == tLine || it.punct(",") && !r.bracketed(k) || it.punct(";") || it.punct(".") && k+1 < len(r.items) && !r.items[k+1].glued && r.items[k+1].kind == tWord || it.punct("?") || it.used == "question" || it.is(cDeed) {
			break
		}
		if it.is(cApprox) {
			v.approx = true
		}
		if it.is(cTType) && v.typ == "" {
			v.typ = it.name(cTType)
		}
		if it.is(cAmbient) && v.typ == "" {
			v.typ = "room"
		}
		if l := it.name(cLabel); l != "" && r.labelApplies(v, l, it) {
			r.setLabel(v, l)
			it.used = "label"
			break
		}
		if k == v.at-1 && it.fold == "be" && len(it.text) > 2 && v.q == "" { // "Bé 12,1", by its accent
			r.setLabel(v, "baume")
			it.used = "label"
			break
		}
		if it.is(cIdent) {
			break
		}
	}
	if v.q == "" || v.q == "temp" || v.q == "amount" && v.unit != "" {
		r.behind(v)
	}
	if v.q == "" {
		v.q = "bare"
	}
}

// labelApplies rejects labels that the unit contradicts: "volume … 19 c".
// A unit says more than a label: "volume … 19 c" is a temperature.
func (r *reader) labelApplies(v *value, l string, it *item) bool {
	if it.is(cInstr) && it.name(cLabel) == "sg" && v.unit != "" {
		return false
	}
	if l == "sg" && len(it.fold) == 1 && !gravityShaped(v.n) && v.n.whole() && len(v.n.digits) < 2 { // packet "D2"
		return false
	}
	switch v.q {
	case "":
		return true
	case "temp":
		return l == "temp" || (l == "target_sg" && false)
	case "amount":
		switch v.unit {
		case "g/L", "g/100mL", "mg/L":
			return l == "ta" || l == "free_so2" || l == "total_so2"
		case "%", "%vol":
			return l == "abv" || l == "ta" && v.v < 2
		case "L", "mL", "gal", "USgal", "impgal", "pint", "cL", "hL", "quart":
			return l == "volume"
		}
		return false
	}
	return l == v.q || l == "brix" && v.q == "balling"
}

// setLabel makes the value one of the labelled quantity, in its usual unit
// where none was typed.
func (r *reader) setLabel(v *value, l string) {
	v.label = true
	if v.q == "amount" && l == "volume" {
		v.q = "volume"
		return
	}
	v.q = l
	if v.unit == "" || v.unit == "%" {
		v.unit = labelUnit[l]
	}
}

// behind reads what stands after the number: "1.032 sg", "19 in the
// cellar", "24 must". A label directly behind belongs to the number unless
// another number follows it: "19 temp" against "19 sg 1.032".
func (r *reader) behind(v *value) {
	for k := v.end; k < len(r.items) && k < v.end+4; k++ {
		it := &r.items[k]
		if it.breaks() || it.kind == tNum || it.used == "time" || it.is(cDeed) {
			return
		}
		if k == v.end && v.q == "" {
			if l := it.name(cLabel); l != "" && !r.numberFollows(k) && it.fold != "t" {
				r.setLabel(v, l)
				it.used = "label"
				v.end = k + 1
				return
			}
		}
		if l := it.name(cLabel); k > v.end && v.q == "" && l != "" && l != "temp" && l != "sg" && l != "volume" && !it.is(cMaterial) && !r.numberFollows(k) && r.items[v.end].fold == "on" {
			r.setLabel(v, l) // "75 on the oechsle scale"
			it.used = "label"
			return
		}
		if it.is(cApprox) && (it.fold == "ish" || it.fold == "or so" || it.fold == "i think") {
			v.approx = true
		}
		if v.typ == "" && it.is(cAmbient) && !r.numberFollows(k) && !r.namesTool(k) {
			v.typ = "room"
			return
		}
		if v.typ == "" && it.is(cTType) && !r.numberFollows(k) {
			v.typ = it.name(cTType)
			return
		}
	}
}

// numberFollows reports that the label at k belongs to the number after
// it. Filler may stand between label and number.
func (r *reader) numberFollows(k int) bool {
	for j := k + 1; j < len(r.items) && j < k+4; j++ {
		it := &r.items[j]
		if it.kind == tNum {
			return it.used != "time"
		}
		if it.breaks() || it.kind == tWord && !it.is(cFill) && !it.is(cApprox) {
			return false
		}
	}
	return false
}
