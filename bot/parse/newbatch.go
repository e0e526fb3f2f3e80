package parse

import (
	"strings"
	"unicode"
)

// newBatch reads the begin of a batch: "new quince kit, 21 l". It must
// open the message: "a new smell" is none.
func (r *reader) newBatch() (Intent, bool) {
	if r.items[0].fold == "like" || r.items[0].fold == "same" { // "like the riesling: new kit"
		if in, ok := r.beginLike(); ok {
			return in, true
		}
	}
	k := r.tellsThat(r.asked(0))
	if k == 0 {
		k = r.withMe()
	}
	if k == 0 && len(r.items) > 2 && r.items[1].punct(",") && r.items[0].batch == 0 && !r.items[0].is(cNew) && (r.items[0].is(cFill) || r.items[0].is(cPlain)) { // "right, started the rhubarb"
		k = 2
	}
	for k < len(r.items) && (r.items[k].used == "time" || r.items[k].kind == tPunct || r.items[k].is(cPron) || r.items[k].is(cThanks) || r.items[k].fold == "just") && !r.items[k].is(cNew) {
		k++
	}
	k = r.asked(k)
	if n := r.newBehind(k); n > 0 {
		k = n
	} else if n := r.newLast(k); n > 0 {
		k = n
	}
	article := k+1 < len(r.items) && r.items[k].is(cArt) && r.items[k].batch == 0 && r.items[k+1].fold == "new"
	if article { // "a new rosé: 2 gal", but not "a new smell"
		k++
	}
	if k >= len(r.items) {
		return Intent{}, false
	}
	if !r.items[k].is(cNew) {
		if in, ok := r.namedFirst(k); ok {
			return in, true
		}
		if in, ok := r.begunLast(k); ok {
			return in, true
		}
		if k = r.newBehindTalk(k); k == 0 {
			return Intent{}, false
		}
	}
	switch w, _, _ := strings.Cut(r.items[k].fold, " "); w {
	case "first", "next", "another": // "next batch: plum", but not "next batch i'll use less"
		if k+1 >= len(r.items) || r.items[k+1].kind != tPunct {
			return Intent{}, false
		}
	}
	if r.beginsLater(k) {
		return Intent{}, false
	}
	if in, ok := r.beginLike(); ok {
		return in, true
	}
	from, to := r.clauseOf(k)
	for _, t := range r.times {
		if t.future && !r.meantFor(t) && t.from >= from && t.from < to { // "starting apple tomorrow" is a plan
			return Intent{}, false
		}
	}
	said := strings.Contains(r.items[k].fold, "batch") || strings.Contains(r.items[k].fold, "wine")
	k++
	wishes := r.wishes()
	b := newBatch{r: r, from: k, said: said}
	b.parts()
	if b.name == "" && r.addressed() {
		b.afterFruit()
	}
	if b.name == "" && b.said && r.addressed() && len(r.items) <= k+3 && !r.items[0].is(cQ) {
		return Intent{Kind: Ask, Ask: "name", Why: "a new batch needs a name"}, true
	}
	if b.name == "" || !b.certain() || !b.toldEnough(k) || article && b.kind == "" && !b.said && !b.fruit {
		r.unname()
		return Intent{}, false
	}
	in := b.intent()
	in.Wishes = wishes
	return in, true
}

// newBehind is the place of "new kit" or "new batch" behind small words alone: "ok so we got
// a new kit, it's called malbec"; 0 where none is.
func (r *reader) newBehind(k int) int {
	for n := k; n+1 < len(r.items) && n < k+7; n++ {
		it := &r.items[n]
		if it.is(cNew) && n > k {
			if x := &r.items[n+1]; it.fold == "new" && (x.name(cKind) != "" || x.is(cNewword)) || strings.Contains(it.fold, "new batch") || it.fold == "new one" {
				return n
			}
		}
		if it.batch > 0 || it.used != "" || it.kind != tWord && it.kind != tPunct || it.kind == tWord && !it.is(cFill) && !it.is(cPron) && !it.is(cThanks) && !it.is(cArt) && !it.is(cGot) || it.is(cQ) && !it.is(cPron) && !it.is(cFill) || it.fold == "no" || it.fold == "not" {
			return 0
		}
	}
	return 0
}

// newLast is the place of "new batch" behind a clause that tells how much and of what: "30 l
// from zweigelt grapes, new batch name pink"; 0 where none is.
func (r *reader) newLast(k int) int {
	if k >= len(r.items) || r.items[k].kind != tNum || !r.addressed() || r.items[len(r.items)-1].punct("?") {
		return 0
	}
	volume := false
	for ; k+1 < len(r.items); k++ {
		it := &r.items[k]
		volume = volume || isVolumeUnit(it.name(cUnit)) && r.items[k-1].kind == tNum
		if it.batch > 0 || it.is(cDeed) || it.is(cPlan) || it.is(cCond) || it.is(cDeny) || it.is(cOthers) || it.is(cSay) {
			return 0
		}
		if it.breaks() && r.items[k+1].is(cNew) && strings.Contains(r.items[k+1].fold, "batch") && volume {
			return k + 1
		}
	}
	return 0
}

// asked is the place behind the politeness at k: "can you", "please",
// "i'd like to". Only what asks somebody else to do it is a request: "can i
// start a new batch in that bucket?" is a question.
func (r *reader) asked(k int) int {
	words := func(ws ...string) bool {
		for i, w := range ws {
			if k+i >= len(r.items) || r.items[k+i].fold != w {
				return false
			}
		}
		k += len(ws)
		return true
	}
	for k < len(r.items) {
		switch {
		case words("can", "you"), words("could", "you"), words("would", "you"), words("will", "you"), words("i'd", "like", "to"), words("i'd", "like"), words("i", "would like to"), words("i'd", "like to"), words("i", "want to"), words("we", "want to"), words("let's"), words("please"), words("pls"), words("plz"):
		case r.items[k].is(cThanks) && !r.items[k].is(cNew), r.items[k].kind == tPunct && k > 0:
			k++
		default:
			return k
		}
	}
	return k
}

// namedFirst reads "blackberry, new batch, 1 gal": the name, a sign, and then that
// it is new. The name is no open batch's, or it would be news of that one.
func (r *reader) namedFirst(from int) (Intent, bool) {
	k := from
	for k < len(r.items) && k < from+4 && (r.items[k].kind == tWord || r.items[k].kind == tNum && k > from) {
		if it := &r.items[k]; it.batch > 0 || it.used != "" || it.known() && it.kind == tWord && !it.is(cFruit) {
			return Intent{}, false
		}
		k++
	}
	if k == from || k+1 >= len(r.items) || !r.items[k].punct(",") && !r.items[k].punct(":") && !r.items[k].punct("-") && !r.items[k].punct(".") {
		return Intent{}, false
	}
	n := k + 1
	if r.items[n].is(cArt) && n+1 < len(r.items) {
		n++
	}
	if n+2 < len(r.items) && r.items[n].is(cNew) && r.items[n+1].is(cArt) && r.items[n+2].is(cNew) { // "started a new one"
		n += 2
	}
	if !r.items[n].is(cNew) || n+1 < len(r.items) && !strings.Contains(r.items[n].fold, "batch") && r.items[n].fold != "new one" && !r.items[n+1].is(cNewword) && !r.items[n+1].is(cNew) && r.items[n+1].name(cKind) == "" && r.items[n+1].kind != tPunct {
		return Intent{}, false
	}
	wishes := r.wishes()
	b := newBatch{r: r, from: from, said: true}
	b.parts()
	if b.name == "" || !b.certain() {
		r.unname()
		return Intent{}, false
	}
	in := b.intent()
	in.Wishes = wishes
	return in, true
}

// unname gives back the words that were taken for a name where no batch begins.
func (r *reader) unname() {
	for i := range r.items {
		if r.items[i].used == "name" {
			r.items[i].used = ""
		}
	}
}

// newBatch gathers what the text says of a batch that begins.
type newBatch struct {
	r        *reader
	from     int
	said     bool // "batch" or "wine" is said
	name     string
	kind     string
	fruit    bool
	names    int  // words of the name
	kindWord int  // place of the kind's own word among those of the name, from 1; 0 for none
	given    bool // the name was given: "called"
	volume   bool // a size is told
	code     bool // the name begins with letters and digits mixed, as labels on vessels do
	d        draft
}

// parts finds the name and the kind; the numbers are read like any others.
// The name ends at the first sign, number or word of another part; a later
// fruit replaces a name that is only a kind ("white kit, riesling"). A
// vintage belongs to the name: "elder 26".
func (b *newBatch) parts() {
	r := b.r
	b.d.claims = r.identities()
	var words []string
	open := true
	for k := b.from; k < len(r.items); k++ {
		it := &r.items[k]
		switch {
		case it.used != "":
			open = open && len(words) == 0
		case it.kind == tLine:
			open = open && len(words) == 0
		case it.breaks() || it.punct("(") || it.is(cCond) || it.punct(":") && b.names > 0:
			open = open && len(words) == 0
		case it.is(cThanks) && !it.is(cFruit) && !it.is(cMaterial) && it.name(cKind) == "" && len(words) > 0: // "banana lol"
		case it.kind == tNum && open && len(words) > 0 && it.num.whole() && (len(it.num.digits) <= 2 || b.vintage(it)) && !r.unitNext(k):
			words = append(words, it.text) // "damson 26", "damson 2026"
			it.used = "name"
		case it.kind == tNum:
			open = open && len(words) == 0
			if r.unitNext(k) {
				k += r.skipUnit(k)
			}
		case it.kind == tCode && open && (len(words) > 0 || unicode.IsLetter([]rune(it.text)[0])):
			b.code = b.code || len(words) == 0 // "b1"
			words = append(words, it.text)
			it.used = "name"
		case it.is(cNewword) && it.batch == 0, k == b.from && (slippedBatch(it) || b.mustOf(k)):
			b.said = b.said || it.fold != "lot"
			it.used = "name"
		case (it.is(cPron) || it.has(cAside, "size")) && len(words) == 0 && it.batch == 0: // "a new wine it is an elder", "a wee mead"
		case it.fold == "and" && b.names > 0 && !b.goesOn(k): // "and there is nine litres of it"
			open = false
		case (it.fold == "from" || it.fold == "from the") && b.names > 0: // "plum from the freezer"
			open = false
			for j := k + 1; j < len(r.items) && j < k+4 && b.said && !r.items[j].breaks(); j++ { // wherever the fruit was got
				if r.items[j].is(cOther) && r.items[j].used == "" {
					r.items[j].used = "name"
				}
			}
		case b.givesName(k): // "a new kit, call it attic"
			if ws, end := b.givenName(k); len(ws) > 0 {
				words, b.names, b.given, open = ws, len(ws), true, false
				k = end - 1
			}
		case open && len(words) == 0 && b.forWhom(k) > 0: // "start a new batch for me: sour cherry"
			for n := b.forWhom(k); n > 0; n-- {
				r.items[k].used = "name"
				k++
			}
			k--
		case open && b.names == 0 && b.namePrefix(k):
			words = append(words, it.text)
			it.used = "name"
		case open && b.names > 0 && b.goesOn(k):
			words = append(words, it.text)
			it.used = "name"
		case (it.punct(":") || it.punct("-")) && b.names == 0 && len(words) > 0 && b.namedBehind(k):
			words, b.kindWord, open = nil, 0, true // "new white: bacchus": the kind is no name
		case it.name(cKind) != "" && len(it.fold) > 2 && (b.kind == "" || it.name(cKind) == "kit"):
			b.kind = it.name(cKind)
			if b.kind == "mead" || b.kind == "cider" || b.kind == "red" || b.kind == "white" || b.kind == "rosé" {
				if open && !strings.Contains(it.fold, " ") && !(k+1 < len(r.items) && r.items[k+1].is(cNewword)) {
					words = append(words, it.text)
					if k+1 < len(r.items) && r.items[k+1].fold != "and" {
						b.kindWord = len(words)
					}
				}
			}
			it.used = "name"
		case !open && b.names == 0 && len(words) > 0 && it.batch == 0 && !b.measured(k) && (it.is(cFruit) || it.kind == tWord && len(it.senses) == 0 && b.alone(k)):
			words, b.kindWord = []string{it.text}, 0
			b.names, b.fruit, it.used = 1, b.fruit || it.is(cFruit), "name"
		case it.is(cNew) || it.is(cVessel) || it.is(cAmbient) && !it.is(cFruit) && len(words) > 0 && r.items[k-1].fold == "the" || it.is(cFill) && len(it.fold) < 4 && !it.is(cFruit) || it.is(cArt) || it.kind == tPunct || it.fold == "with" || it.fold == "from" || it.is(cTType) && len(words) > 0 || it.fold == "some" || it.fold == "us" || it.fold == "going" || it.fold == "underway" || it.fold == "bubbling" || it.fold == "please" || it.fold == "pls" || it.fold == "plz" || b.measured(k):
		case it.kind == tWord && open && (!b.stops(it) || (b.said || b.kind == "kit") && len(words) == 0 && it.is(cOther)):
			words = append(words, it.text)
			b.names++
			if it.is(cFruit) || it.is(cMaterial) {
				b.fruit = true
			}
			it.used = "name"
		}
	}
	if k := b.kindWord; k > 0 && b.names > 0 && k <= len(words) && (k < len(words) || b.said && k > 1 && colourWord(words[k-1])) && !b.given { // "new mead heather": the kind is no part of the name
		words = append(words[:k-1], words[k:]...)
	}
	if len(words) == 0 && b.kind != "" {
		words = []string{b.kind}
	}
	b.name = b.asTyped(words)
}

// measured reports a fruit or a material with its weight: "6 kg plums", "4 lb of
// elderberries". It went in; it is no name.
func (b *newBatch) measured(k int) bool {
	r := b.r
	if !r.items[k].is(cFruit) && !r.items[k].is(cMaterial) {
		return false
	}
	at := k
	for k--; k > 0 && (r.items[k].fold == "of" || skipToMaterial(&r.items[k]) && r.items[k].kind == tWord); k-- {
	}
	u := ""
	if k > 0 && r.items[k-1].kind == tNum {
		u = r.items[k].name(cUnit)
	}
	return u == "kg" || u == "lb" || u == "g" || u == "oz" || u != "" && !r.items[at].is(cFruit) && !isVolumeUnit(u)
}

// afterFruit names a batch of which only the fruit is told after that: "new
// batch: 6 kg plums, 2 kg sugar".
func (b *newBatch) afterFruit() {
	for k := b.from; k < len(b.r.items); k++ {
		if b.r.items[k].is(cFruit) && b.measured(k) {
			b.name, b.fruit = strings.ToLower(b.r.items[k].text), true
			return
		}
	}
}

// unitNext reports a volume or another unit behind the number at k. Then
// the number is an amount and no part of the name.
func (r *reader) unitNext(k int) bool {
	if k+1 >= len(r.items) {
		return false
	}
	if r.items[k+1].is(cUnit) || r.items[k+1].punct("/") {
		return true
	}
	if r.items[k+1].kind == tNum {
		year := r.items[k].num // "elder 25 9 l": last year's had the same fruit
		named := year.whole() && (len(year.digits) == 2 || len(year.digits) == 4) && k > 0 && r.items[k-1].kind == tWord
		return !named || k+2 >= len(r.items) || !isVolumeUnit(r.items[k+2].name(cUnit))
	}
	return gravityShaped(r.items[k].num)
}

// skipUnit is 1 where a unit follows the number, so that it is passed over
// with it.
func (r *reader) skipUnit(k int) int {
	if r.items[k+1].is(cUnit) {
		return 1
	}
	return 0
}

// certain decides whether this is a wine at all: new shoes are not. In
// private one unknown word is enough, for what else would be new there; in
// a group a size, a fruit or the word batch must say so.
func (b *newBatch) certain() bool {
	r := b.r
	head := b.from
	for head < len(r.items) && !r.items[head].breaks() {
		head++
	}
	for i := b.from; i < len(r.items); i++ {
		if u := r.items[i].name(cUnit); isVolumeUnit(u) && i > 0 && (r.items[i-1].kind == tNum || r.items[i-1].is(cArt) || r.items[i-1].name(cNumber) != "") {
			b.volume = true
		}
		if i < head && r.items[i].is(cOther) && r.items[i].used == "" && !r.items[i].cellar() {
			return false
		}
	}
	volume := b.volume
	for i := b.from + 1; i < head && !b.said && !b.given && b.kind == ""; i++ { // "new bung on the pear"
		if r.items[i].batch > 0 && !r.items[i].nearName {
			return false
		}
	}
	if b.names > 4 && !b.given {
		return false
	}
	if b.given && (b.said || volume || b.kind != "") {
		return true
	}
	if !r.addressed() {
		return b.said && (volume || b.fruit || b.kind != "") || volume && (b.fruit || b.kind != "" || b.code) || b.kind == "kit" && b.fruit
	}
	return b.said || volume || b.fruit || b.kind != "" || b.names == 1 && len(r.items) <= b.from+2
}

// intent builds the entries: the batch, its volume, and what else was
// told. Size said beside a vessel is the volume (contract). Everything is
// held back if one part is in doubt: half a batch would be worse than a
// question.
func (b *newBatch) intent() Intent {
	r := b.r
	d := &b.d
	r.begins = true
	d.deeds = r.findDeeds()
	d.values = r.findValues()
	d.scopes = &scopes{r: r, first: len(r.items)}
	r.pairMaterials(d)
	r.countedFruit(d)
	r.amounts(d)
	d.onlyJuice()
	for i := range d.claims { // the volume is the batch's, not the deed's
		if q := d.claims[i].e.Quantity; q == "volume" || q == "vessel_size" {
			d.claims[i].e.Deed = ""
			for j := range d.deeds {
				d.deeds[j].claims = max(0, d.deeds[j].claims-1)
			}
		}
	}
	r.bares(d)
	r.measured(d)
	for j := range d.deeds { // a gravity is the batch's too
		d.deeds[j].claims = d.given(d.deeds[j].name)
	}
	r.deedEntries(d)
	when := When{}
	for _, t := range r.times {
		if !t.future {
			when = t.when
		}
	}
	head := Entry{Quantity: "new_batch", Type: b.kind, Batch: b.name, When: when}
	es := []Entry{head}
	ask := ""
	for i := range d.claims {
		c := &d.claims[i]
		if c.e.Quantity == "vessel_size" {
			c.e.Quantity = "volume"
		}
		c.e.When, c.e.Batch, c.e.BatchN = when, b.name, 0
		if c.e.Quantity == "volume" && len(es) > 1 {
			es = append(es[:1], append([]Entry{c.e}, es[1:]...)...)
		} else {
			es = append(es, c.e)
		}
		if c.reject != "" {
			return Intent{Kind: Reject, Reason: c.reject}
		}
		if ask == "" {
			ask = b.doubt(c)
		}
	}
	if ask == "" {
		return Intent{Kind: NewBatch, Entries: es}
	}
	in := Intent{Kind: Ask, Ask: ask, Held: es, Why: "a new batch, but one thing is unclear"}
	if ask == "gallon" {
		for _, u := range []string{"US gal", "imp gal"} {
			o := append([]Entry(nil), es...)
			for i := range o {
				if o[i].Unit == "gal" {
					o[i].Unit = u
				}
			}
			in.Options = append(in.Options, Option{Label: u, Entries: o})
		}
	}
	return in
}

// given counts what a deed was given of its own: something put in, bottles.
func (d *draft) given(deed string) int {
	n := 0
	for i := range d.claims {
		if e := &d.claims[i].e; e.Deed == deed && (e.Quantity == "addition" || e.Quantity == "topping" || strings.HasPrefix(e.Quantity, "bottles")) {
			n++
		}
	}
	return n
}

// doubt is the question that a claim of a new batch needs. A must's first
// gravity has no reading before it, so only the limits count.
func (b *newBatch) doubt(c *claim) string {
	if c.ask != "" {
		return c.ask
	}
	if c.e.Quantity == "sg" && c.e.Value != nil {
		switch v := *c.e.Value; {
		case v < askLow || v > askHigh:
			return "magnitude"
		case v < storeLow || v > storeHigh:
			return "plausible"
		}
	}
	return ""
}
