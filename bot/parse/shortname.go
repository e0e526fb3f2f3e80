package parse

import "strings"

// runTogether reports a name of several words typed as one, "oldelder" or "old-elder's" for
// "old elder". Of letters alone it must have six: a shorter word may be anything.
func (r *reader) runTogether(b int, t *token) bool {
	ws, w := r.names[b], t.fold
	if len(ws) < 2 || len(w) < 6 && t.kind != tCode || w[0] != ws[0][0] {
		return false
	}
	w = strings.TrimSuffix(w, "'s")
	for i, x := range ws {
		if i > 0 && w != "" && (w[0] == '-' || w[0] == '_' || w[0] == '.') {
			w = w[1:]
		}
		if !strings.HasPrefix(w, x) {
			return false
		}
		w = w[len(x):]
	}
	return w == ""
}

// slippedLast reports the second word of a name of two, in the plural or typed with a slip, behind the first
// one typed whole: the whole name has the letters that a near miss needs. Of a word of
// three letters only one before a gravity counts, and a word with a meaning of its own is
// no slip.
func (r *reader) slippedLast(i int, w, name string) bool {
	if len(name) < 3 || !oneSlip(w, name) {
		return false
	}
	if len(w) == len(name)+1 && w[len(name)] == 's' && w[:len(name)] == name { // "two big reds"
		return true
	}
	if len(name) >= minSlipLen {
		return true
	}
	return r.beforeGravity(i+1) && (len(r.items[i+1].senses) == 0 || r.items[i+1].is(cGuard) || r.items[i+1].slip) || len(name) > 3 && len(r.items[i+1].senses) == 0
}

// beforeGravity reports that a gravity with its digits stands behind item i, perhaps
// behind a sign or "is".
func (r *reader) beforeGravity(i int) bool {
	k := i + 1
	for n := 0; n < 2 && k < len(r.items) && (r.items[k].punct(":") || r.items[k].punct("-") || r.items[k].fold == "is" || r.items[k].fold == "at"); n++ {
		k++
	}
	return k < len(r.items) && gravityItem(&r.items[k]) && r.items[k].num.decimals >= 3
}

// saidOfWine returns the only open batch whose name of several words begins with the
// material, the person or the word of another topic or of taste at item i, where what stands
// around it is measured of a wine or done to one: "miód 1,018", "degassed the rioja" and
// "granny is at 1.020" of the batches that are called so, not "200 g honig" and "rioja on
// offer".
func (r *reader) saidOfWine(i int) int {
	it := &r.items[i]
	m := it.name(cMaterial)
	if m == "water" || m == "wine" || it.is(cDeed) || it.is(cVerb) || it.is(cVessel) || it.used != "" || m == "" && !it.isAny(alsoNames[:]) {
		return 0
	}
	w, found := strings.TrimSuffix(it.fold, "'s"), 0
	for b, ws := range r.names {
		if len(ws) > 1 && ws[0] == w && !r.ctx.Batches[b].bottled() {
			if found > 0 {
				return 0
			}
			found = b + 1
		}
	}
	if found == 0 || !r.spokenOfWine(i) {
		return 0
	}
	return found
}

// alsoNames are the classes of everyday words that names of batches begin with.
var alsoNames = [...]class{cOther, cPerson, cOthers, cTaste, cFault, cObs}

// spokenOfWine reports around item i what is told of a wine and of nothing that goes into
// one: behind it a deed, a label, a gravity or a temperature; or before it a deed, or a
// material that went into it, where the item ends what was named.
func (r *reader) spokenOfWine(i int) bool {
	it := &r.items[i]
	p := i - 1
	for p >= 0 && !r.conjoins(p) && r.items[p].fold != "in" && r.items[p].fold != "to" && (r.determined(p) || p > 0 && r.items[p].name(cNumber) == ".5" || r.items[p].is(cFill) && !r.items[p].is(cVerb)) {
		p--
	}
	k, thing := i+1, it.is(cMaterial) || it.is(cOther)
	for k < len(r.items) && (r.items[k].punct(":") || r.items[k].punct("-") || r.items[k].fold == "is" || r.items[k].fold == "at" || r.items[k].fold == "was" || r.items[k].fold == "now") {
		k++
	}
	head := k >= len(r.items) || r.items[k].kind != tWord || r.items[k].is(cDeed) || r.items[k].is(cVerb) || r.items[k].is(cLabel) || r.items[k].fold == "to" || r.items[k].used == "time" || r.conjoins(k)
	if !thing && (!head || i == 0 && k < len(r.items) && r.items[k].is(cDeed)) {
		return false
	}
	if p > 0 && (r.items[p].fold == "in" || r.items[p].fold == "into" || r.items[p].fold == "in the" || r.items[p].fold == "to") { // "finings in the rioja"
		for j := p - 1; j >= 0 && !r.items[j].breaks(); j-- {
			if r.items[j].is(cMaterial) && r.items[j].batch == 0 {
				return true
			}
		}
	}
	if p >= 0 && !r.conjoins(p) && (r.items[p].kind == tNum || r.items[p].is(cUnit) || r.items[p].is(cVerb)) {
		return false
	}
	if k < len(r.items) {
		switch x := &r.items[k]; {
		case x.fold == "in" || x.fold == "into" || x.is(cVerb):
			return false
		case x.is(cDeed) && thing || x.is(cLabel):
			return true
		case x.kind == tNum:
			return gravityItem(x) && (thing || x.num.decimals >= 3) || k+1 < len(r.items) && unitQuantity[r.items[k+1].name(cUnit)] != ""
		}
	}
	return p >= 0 && r.items[p].is(cDeed) && !takesMaterial(r.items[p].name(cDeed)) && (thing || it.is(cPerson) || it.is(cOthers) || r.determined(i-1))
}

// tornName reports a name of one word typed as two: "black currant" for "blackcurrant".
func tornName(ws []string, toks []token, i int) bool {
	if len(ws) != 1 || i+1 >= len(toks) || toks[i].kind != tWord || toks[i+1].kind != tWord || toks[i+1].glued {
		return false
	}
	a, b := toks[i].fold, toks[i+1].fold
	return len(a) > 2 && len(b) > 2 && len(a)+len(b) == len(ws[0]) && ws[0][:len(a)] == a && ws[0][len(a):] == b
}

// listedNumber reports the number of a batch at token i in a list of them in one line:
// "30: 1.049, 31: 1.026".
func listedNumber(toks []token, i int) bool {
	return i > 2 && (toks[i-1].text == "," || toks[i-1].text == ";" || toks[i-1].text == ".") && i+2 < len(toks) && toks[i+1].text == ":" && !toks[i+2].glued &&
		toks[i+2].kind == tNum && gravityShaped(toks[i+2].num) && toks[i+2].num.decimals == 3 && toks[i].num.whole()
}

// matchName is how many tokens from i on are the words of a name in a row, 0 if they are
// not there whole; a dash may hold them together: "uncle-bob", "tank-1".
func matchName(toks []token, i int, ws []string) int {
	if toks[i].fold != ws[0] {
		return 0
	}
	k := i + 1
	for j, w := range ws[1:] {
		if k+1 < len(toks) && toks[k].text == "-" && toks[k].glued && toks[k+1].glued {
			k++
		}
		if k >= len(toks) || toks[k].fold != w && !(j == len(ws)-2 && strings.TrimSuffix(toks[k].fold, "'s") == w) && !(toks[k].glued && toks[k].kind == tNum && strings.TrimPrefix(toks[k].fold, "-") == w) {
			return 0
		}
		k++
	}
	return k - i
}

// nameOfWords is how many tokens from i on are a whole name of several words, in which a
// word of number is none: "sweet sixteen".
func nameOfWords(toks []token, i int, names [][]string) int {
	n := 0
	for _, ws := range names {
		if len(ws) > max(n, 1) {
			n = max(n, matchName(toks, i, ws))
		}
	}
	return n
}

// byWholeGrape returns the only open batch of a name of two words of which the first is that
// of the grape at item i, and the second stands behind it: "sauvignon blanc kit" of the
// sauvignon kit.
func (r *reader) byWholeGrape(i int) int {
	it := &r.items[i]
	w, _, ok := strings.Cut(it.fold, " ")
	if !ok || !it.is(cFruit) || i+1 >= len(r.items) {
		return 0
	}
	found := 0
	for b, ws := range r.names {
		if len(ws) != 2 || ws[0] != w || ws[1] != r.items[i+1].fold || r.ctx.Batches[b].bottled() {
			continue
		}
		if found > 0 {
			return 0
		}
		found = b + 1
	}
	return found
}

// shortenedLast returns the only batch of a name of two words that items i and i+1 name,
// the second of them shortened or typed with a slip: "big blue" for "big blueberry".
func (r *reader) shortenedLast(i int) int {
	if i+1 >= len(r.items) || r.items[i+1].kind != tWord || r.items[i+1].batch > 0 || len(r.items[i+1].fold) < 3 {
		return 0
	}
	w := strings.TrimSuffix(r.items[i+1].fold, "'s")
	b, _ := r.only(func(_ int, ws []string) int {
		if len(ws) == 2 && ws[0] == r.items[i].fold && (strings.HasPrefix(ws[1], w) || r.slippedLast(i, w, ws[1])) {
			return 2
		}
		return 0
	})
	return b
}

// oneFirstWord returns the only open batch whose name of several words has the everyday word
// at i in it, where that word stands like a name: at the head of a clause, before a gravity.
// "Big 1.034" is the big red, "jug .999" the blue jug.
func (r *reader) oneFirstWord(i int) int {
	it := &r.items[i]
	k := i + 1
	for n := 0; n < 2 && k < len(r.items) && (r.items[k].punct(":") || r.items[k].punct("-") || r.items[k].fold == "is" || r.items[k].fold == "at" || r.items[k].fold == "was" || r.items[k].fold == "now"); n++ {
		k++
	}
	if it.is(cNew) || it.is(cArt) || it.fold == "the" || i > 0 && !r.items[i-1].breaks() && r.items[i-1].fold != "the" || k >= len(r.items) || !gravityItem(&r.items[k]) || r.items[k].num.decimals < 3 {
		return 0
	}
	found, w := 0, strings.TrimSuffix(it.fold, "'s")
	for b, ws := range r.names {
		if len(ws) > 1 && (ws[0] == it.fold || ws[0] == w || ws[len(ws)-1] == w) && !r.ctx.Batches[b].bottled() {
			if found > 0 {
				return 0
			}
			found = b + 1
		}
	}
	return found
}

// oneLaterWord returns the only batch with the word at i behind the first word of its name: "damson"
// for "dad's damson". Three letters count before a gravity alone.
func (r *reader) oneLaterWord(i int) int {
	found, w := 0, strings.TrimSuffix(r.items[i].fold, "'s")
	for b, ws := range r.names {
		for k := 1; k < len(ws) && len(w) >= minShortened; k++ {
			if ws[k] != w && !(len(w) > minShortened && plural(w, ws[k])) && !(len(ws[k]) >= minSlipLen && oneSlip(w, ws[k])) {
				continue
			}
			if found > 0 {
				return r.liveOf(found, b+1)
			}
			found = b + 1
		}
	}
	return found
}

// numbered reports that a word is counted or is what something is of: "2 beans", "a can of beans".
func (r *reader) numbered(i int) bool {
	if i == 0 {
		return false
	}
	p := &r.items[i-1]
	return p.kind == tNum || p.name(cNumber) != "" || p.is(cUnit) || p.is(cMaterial) || p.fold == "of" || p.is(cArt)
}

// plural reports the plural of an English word: "beans" of "runner bean".
func plural(w, word string) bool {
	return len(w) == len(word)+1 && w[len(word)] == 's' && w[:len(word)] == word
}

// restOfName takes the words behind a name's first one, typed with a slip at i, into it:
// "damsn 25" is one name.
func (r *reader) restOfName(i int) {
	ws := r.names[r.items[i].batch-1]
	if len(ws) > len(r.items)-i {
		return
	}
	for k := 1; k < len(ws); k++ {
		if r.items[i+k].fold != ws[k] {
			return
		}
	}
	for k := 1; k < len(ws); k++ {
		r.items[i+k].used = "rest"
	}
}

// honeyWine tells the German mead from the English verb and the Dutch and French words of its
// spelling: it opens a clause before a figure or a sign, or stands behind a German article.
func (r *reader) honeyWine(i int) bool {
	if i > 0 {
		switch r.items[i-1].fold {
		case "der", "den", "dem", "im", "vom", "beim", "zum", "unser", "unseren", "mein", "meinen":
			return true
		}
		if !r.items[i-1].breaks() && !r.items[i-1].is(cDeed) && r.items[i].text != "Met" {
			return false
		}
	}
	if i+1 == len(r.items) {
		return i == 0 || r.items[i-1].is(cDeed) || r.items[i].text == "Met"
	}
	x := &r.items[i+1]
	return gravityItem(x) || x.kind == tPunct || x.is(cLabel) || x.is(cDeed) && !r.ctx.Group || x.used == "time"
}
