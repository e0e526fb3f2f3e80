package parse

import "strings"

// exactName returns the batch (index+1) whose whole name or nickname
// begins at token i, the longest name first, and how many tokens it takes.
// "#3" is a name too. An exact name beats every beginning and near miss
// (contract), so these are found first and over the whole text.
func (r *reader) exactName(toks []token, i int) (batch, n int) {
	if toks[i].text == "#" && i+1 < len(toks) && toks[i+1].kind == tNum {
		return r.byNumber(toks[i+1].num), 2
	}
	if b, k := r.numberedName(toks, i); b > 0 || k > 0 && toks[i].fold == "batch" && nameOfWords(toks, i, r.names) == 0 {
		return b, k
	}
	for b, ws := range r.names {
		if n == 0 && r.runTogether(b, &toks[i]) { // "elder26"
			batch, n = b+1, 1
		}
		if n == 0 && tornName(ws, toks, i) { // "black currant"
			batch, n = b+1, 2
		}
		if n == 0 && len(ws) == 1 && len(toks[i].fold) == len(ws[0])+2 && strings.HasSuffix(toks[i].fold, "'s") && toks[i].fold[:len(ws[0])] == ws[0] { // "ginger's reading"
			batch, n = b+1, 1
		}
		if len(ws) > n {
			if k := matchName(toks, i, ws); k > n {
				batch, n = b+1, k
			}
		}
		for _, nw := range r.nicks[b] {
			if len(nw) > n && matchWords(toks, i, nw) {
				batch, n = b+1, len(nw)
			}
		}
	}
	if n == 0 {
		if b := r.letter(toks, i); b > 0 {
			return b, 1
		}
	}
	return batch, n
}

// letter returns the part of a split that a lone letter at the head of a line names:
// "b 0.996" where "gorse a" and "gorse b" are open. "a" is an article too: it names
// one only before a figure with a point or a colon.
func (r *reader) letter(toks []token, i int) int {
	w := toks[i].fold
	if len(w) != 1 || w < "a" || w > "z" || i > 0 && toks[i-1].kind != tLine || i+1 >= len(toks) {
		return 0
	}
	next := toks[i+1]
	if figure := next.kind == tNum && !next.num.whole(); !figure && next.text != ":" && (w == "a" || w == "i") {
		return 0
	}
	found := 0
	for b, ws := range r.names {
		if len(ws) < 2 || ws[len(ws)-1] != w || r.ctx.Batches[b].bottled() || !r.sibling(b) {
			continue
		}
		if found > 0 {
			return 0
		}
		found = b + 1
	}
	return found
}

// sibling reports a name of which another open batch differs in its last letter only.
func (r *reader) sibling(b int) bool {
	ws := r.names[b]
	stem := strings.Join(ws[:len(ws)-1], " ")
	for o, os := range r.names {
		if o != b && len(os) == len(ws) && len(os[len(os)-1]) == 1 && strings.Join(os[:len(os)-1], " ") == stem && !r.ctx.Batches[o].bottled() {
			return true
		}
	}
	return false
}

// numberedName reads "no 3 …", "batch 3", "no. 3", and "3:" at the head of
// a line. "no" before a number is the correction's no unless something
// follows the number; "no 2 g" is an amount.
func (r *reader) numberedName(toks []token, i int) (batch, n int) {
	j := i
	switch toks[i].fold {
	case "no", "nr", "number", "batch", "num":
		if f := lexicon().single(toks[max(i-1, 0)].fold); i > 0 && f != nil && f.senses[0].class == cNoun { // "packet no 2"
			return 0, 0
		}
		j++
		if j < len(toks) && toks[j].text == "." {
			j++
		}
	default:
		if toks[i].kind != tNum || i > 0 && toks[i-1].kind != tLine && !listedNumber(toks, i) {
			return 0, 0
		}
		if i+2 < len(toks) && toks[i+2].kind == tNum && toks[i].num.whole() && labelWord(toks[i+1].fold) { // "13 sg 0.995"
			if b := r.byNumber(toks[i].num); b > 0 {
				return b, 1
			}
		}
		if i+2 >= len(toks) || toks[i+1].text != ":" || toks[i+2].glued {
			return 0, 0
		}
		return r.byNumber(toks[i].num), 2
	}
	if j >= len(toks) || toks[j].kind != tNum || len(toks[j].num.digits) > 3 || toks[j].num.spoken && toks[i].fold != "batch" && !(toks[i].fold == "number" && j+1 < len(toks) && (saysOf(toks[j+1].fold) || toks[j+1].kind == tNum && gravityShaped(toks[j+1].num))) {
		return 0, 0
	}
	if toks[i].fold == "batch" && j+2 < len(toks) && labelWord(toks[j+1].fold) && toks[j+2].kind == tNum { // "batch 5 brix 13.8"
		return r.byNumber(toks[j].num), j - i + 1
	}
	if j+1 < len(toks) && toks[j+1].kind == tWord && lexicon().unitWord(toks[j+1].fold) || toks[i].fold == "no" && j+1 >= len(toks) {
		return 0, 0
	}
	return r.byNumber(toks[j].num), j - i + 1
}

// labelWord reports a word that names what is measured.
func labelWord(w string) bool {
	f := lexicon().single(w)
	if f == nil {
		return false
	}
	for _, s := range f.senses {
		if s.class == cLabel || s.class == cUnit && (s.name == "Bx" || s.name == "Oe" || s.name == "Be" || s.name == "KMW" || s.name == "Blg") {
			return true
		}
	}
	return false
}

// saysOf reports a verb behind the number of a batch: "number eleven is 1.012".
func saysOf(w string) bool {
	switch w {
	case "is", "was", "reads", "read", "says", "at":
		return true
	}
	return false
}

// byNumber finds the batch of that number (index+1, 0 if it is not open).
func (r *reader) byNumber(n number) int {
	for i := range r.ctx.Batches {
		if n.whole() && r.ctx.Batches[i].N == int(n.val) {
			return i + 1
		}
	}
	return 0
}

// The words must be there whole and in a row.
func matchWords(toks []token, i int, ws []string) bool {
	if len(ws) == 0 || len(ws) > len(toks)-i {
		return false
	}
	for k, w := range ws {
		if toks[i+k].fold != w {
			return false
		}
	}
	return true
}

// nameBeginnings finds names that were shortened or typed with a slip. It
// runs after the exact names: an exact name beats every beginning and near
// miss. Three letters are the least. A word with a meaning of its own is
// passed over: "may", "red", "stirred".
func (r *reader) nameBeginnings() {
	for i := range r.items {
		it := &r.items[i]
		if k := it.name(cKind); k != "" && it.batch == 0 && !(it.fold == "met" && !r.honeyWine(i)) && (k == "kit" || k == "mead" || k == "cider" || i > 0 && r.items[i-1].fold == "the") {
			if it.batch = r.onlyKind(k); it.batch > 0 {
				continue
			}
		}
		if it.kind == tCode && it.batch == 0 && strings.ContainsRune(it.fold, '0') { // "sl0e"
			if b := r.oneBeginning(strings.ReplaceAll(it.fold, "0", "o")); b > 0 && len(it.fold) > 2 && it.fold[0] > '9' {
				it.batch, it.nearName, it.kind = b, true, tWord
			}
		}
		if it.kind != tWord || it.batch > 0 || len(it.fold) < 3 {
			continue
		}
		if b := r.shortenedLast(i); b > 0 {
			it.batch, it.nearName, r.items[i+1].used = b, true, "rest"
			continue
		}
		if b, n := r.slippedWhole(i); b > 0 {
			it.batch, it.nearName = b, true
			for k := 1; k < n; k++ {
				r.items[i+k].used = "rest"
			}
			continue
		}
		if it.batchless() {
			b := 0
			if it.slip && !r.numbered(i) { // "gingr": the batch's before the spice's
				b = r.oneNearMiss(it.fold)
			}
			if b > 0 {
				it.batch, it.nearName = b, true
				r.restOfName(i)
			} else if b := r.oneFirstWord(i); b > 0 {
				it.batch, it.nearName = b, true
			} else if b := r.saidOfWine(i); b > 0 {
				it.batch, it.nearName = b, true
			} else if b := r.oneLaterWord(i); b > 0 && it.senses[0].class == cNoun && len(it.senses) == 1 && !r.numbered(i) { // "beans" of "runner bean"
				it.batch, it.nearName = b, true
			}
			continue
		}
		if w, ok := strings.CutSuffix(it.fold, "'s"); ok { // "brambel's at 1.040"
			if b := r.oneNearMiss(w); b > 0 && len(it.senses) == 0 {
				it.batch, it.nearName = b, true
				continue
			}
		}
		if w, ok := elided(it.fold); ok { // "l'hydromel"
			if b := r.oneBeginning(w); b > 0 {
				it.batch = b
				continue
			}
		}
		if b := r.oneBeginning(it.fold); b > 0 {
			it.batch, it.nearName = b, true
		} else if b := r.oneNearMiss(it.fold); b > 0 && (len(it.senses) == 0 || it.is(cFruit) || it.is(cGuard)) {
			it.batch, it.nearName = b, true
			r.restOfName(i)
		} else if b := r.oneLaterWord(i); b > 0 {
			it.batch, it.nearName = b, true
		} else if b := r.byWholeGrape(i); b > 0 {
			it.batch, it.nearName, r.items[i+1].used = b, true, "rest"
		}
	}
}

// elided is a word without the article or preposition that French and Italian join to it.
func elided(w string) (string, bool) {
	head, rest, ok := strings.Cut(w, "'")
	switch head {
	case "l", "d", "dell", "nell", "all", "qu":
		return rest, ok && len(rest) >= 3
	}
	return "", false
}

// compounds takes the name off a word that only names a thing: "plum cake", "gorse
// lane", "sloe gin" are no batches, and what "tastes of plum" is none either.
func (r *reader) compounds() {
	for i := range r.items {
		it := &r.items[i]
		if it.batch == 0 {
			continue
		}
		if i+1 < len(r.items) && r.thingOf(i) || r.madeOf(i) || i > 0 && r.likened(i) || r.isGiver(i) || r.oneOfAKind(i) {
			it.batch, it.used = 0, "thing"
		}
	}
}

// isGiver reports a name that gives or is given something else than wine: "Rose gave us 3
// jars of honey", "gave Rose a lift".
func (r *reader) isGiver(i int) bool {
	if i+2 < len(r.items) && r.items[i+1].fold == "gave" && r.items[i+2].is(cPron) && r.items[i+2].name(cNumber) == "" {
		return true
	}
	if i > 0 && i+1 < len(r.items) && r.items[i+1].kind == tNum && r.items[i-1].has(cOther, "pays") { // "paid Rose 1.040"
		return true
	}
	return i > 0 && r.items[i-1].fold == "gave" && i+2 < len(r.items) && r.items[i+1].is(cArt) && !r.items[i+2].is(cDeed) && !r.items[i+2].is(cAct) && r.items[i+2].name(cUnit) == "" && !r.items[i+2].is(cNoun)
}

// thingOf reports that the name at i only says what the thing behind it is of. A tool
// must have its article: "apple press tomorrow" is a plan for the apple.
func (r *reader) thingOf(i int) bool {
	x := &r.items[i+1]
	if x.batch > 0 || x.used == "rest" {
		return false
	}
	if x.punct("(") { // "ginger (the cat)"
		for k := i + 2; k < len(r.items) && k < i+7 && !r.items[k].punct(")"); k++ {
			if it := &r.items[k]; it.batch == 0 && it.is(cOther) && !it.cellar() {
				return true
			}
		}
		return false
	}
	if i > 0 && (r.determined(i-1) || r.items[i-1].fold == "of") && x.name(cMaterial) == "honey" { // "opened the heather honey"
		return true
	}
	for _, s := range x.senses {
		if s.class == cOther && s.name == "thing" || s.class == cTool && i > 0 && r.determined(i-1) {
			return true
		}
	}
	return false
}

// madeOf reports a thing of another topic before the name, made of the fruit: "confiture de
// mirabelle". With its article the name is the wine's: "photo of the plum".
func (r *reader) madeOf(i int) bool {
	if i < 2 || !r.items[i-1].has(cAside, "of") {
		return false
	}
	for _, s := range r.items[i-2].senses {
		if s.class == cOther && s.name == "thing" {
			return true
		}
	}
	return false
}

// determined reports an article or a possessive.
func (r *reader) determined(k int) bool {
	it := &r.items[k]
	return it.is(cArt) || it.fold == "the" || it.fold == "my" || it.fold == "our"
}

// likened reports that something smells or tastes of what the name means.
func (r *reader) likened(i int) bool {
	p := &r.items[i-1]
	return (p.is(cFault) || p.name(cDeed) == "tasted") && (strings.HasSuffix(p.fold, " of") || strings.HasSuffix(p.fold, " like"))
}

// onlyKind is the only open batch of a kind: "the kit". Two kits are no
// answer to "the kit".
func (r *reader) onlyKind(kind string) int {
	found := 0
	for i := range r.ctx.Batches {
		if b := &r.ctx.Batches[i]; b.Kind == kind && !b.bottled() {
			if found > 0 {
				return 0
			}
			found = i + 1
		}
	}
	return found
}

// batchless reports a word that means something else too plainly to be
// half a name. Fruits are what batches are called after, so they count as
// names first.
func (it *item) batchless() bool {
	for _, s := range it.senses {
		if s.class != cFruit && s.class != cGuard && s.class != cKind {
			return true
		}
	}
	return false
}

// oneBeginning returns the only batch whose name begins with w; its plural
// counts. The plural and the possessive of the whole name count as its
// beginning, too.
func (r *reader) oneBeginning(w string) int {
	found := 0
	for b, ws := range r.names {
		if len(ws) == 0 {
			continue
		}
		whole := r.joined[b]
		if strings.HasPrefix(whole, w) || inflected(w, ws[0]) || w == whole+"s" || w == whole+"'s" || strings.TrimSuffix(w, "'s") == ws[0] {
			if found > 0 {
				return r.liveOf(found, b+1)
			}
			found = b + 1
		}
	}
	return found
}

// inflected reports a name with an ending that a language without prepositions, or with its
// article behind the noun, gives it: "meggyet" of meggy, "havtornet" of havtorn. Names of
// three letters are the beginning of too many words.
func inflected(w, name string) bool {
	if len(name) < 4 || len(w) <= len(name) || w[:len(name)] != name {
		return false
	}
	switch w[len(name):] {
	case "t", "et", "ot", "at", "en", "nak", "nek", "ban", "ben", "bol", "ba", "be", "hoz", "hez", "ra", "re", "val", "vel", "rol":
		return true
	}
	return false
}

// liveOf breaks a tie between two batches of one name: the one that is not
// bottled. "damson" in spring is the one at work, although last year's
// still has bottles.
func (r *reader) liveOf(a, b int) int {
	bottledA, bottledB := r.ctx.Batches[a-1].bottled(), r.ctx.Batches[b-1].bottled()
	switch {
	case bottledA && !bottledB:
		return b
	case bottledB && !bottledA:
		return a
	}
	return 0
}

// oneNearMiss finds the only name that w is one slip away from; of a name of several
// words its first one.
func (r *reader) oneNearMiss(w string) int {
	found := 0
	for b, ws := range r.names {
		if len(ws) == 0 || len(ws[0]) < minSlipLen || !oneSlip(w, ws[0]) {
			continue
		}
		if found > 0 && found != b+1 {
			found = r.liveOf(found, b+1)
			if found == 0 {
				return 0
			}
			continue
		}
		found = b + 1
	}
	return found
}

// bottled reports a batch of which only bottles are left. Its gravity is
// history: readings and deeds go elsewhere.
func (b *Batch) bottled() bool { return b.Stage == "bottled" || b.Stage == "empty" }
