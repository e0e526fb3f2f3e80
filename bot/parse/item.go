package parse

import "strings"

// nick is a nickname of a batch, folded word by word.
type nick []string

// item is a unit of the grammar: a number, or a run of words that the
// lexicon or a batch's name holds together.
type item struct {
	kind       tokenKind
	start, end int
	text, fold string
	num        number
	glued      bool // no space before it
	senses     []sense
	slip       bool // the lexicon's word with one slip
	batch      int  // index+1 of the batch it names
	nearName   bool // the name was typed with a slip or shortened
	unknownNo  bool // "#9" where no batch 9 is open
	used       string
}

// is reports whether the item can play that part. A linear search: no word
// has more than a handful of senses.
func (it *item) is(c class) bool {
	for i := range it.senses {
		if it.senses[i].class == c {
			return true
		}
	}
	return false
}

// isAny reports whether the item can play one of those parts.
func (it *item) isAny(cs []class) bool {
	for _, c := range cs {
		if it.is(c) {
			return true
		}
	}
	return false
}

// has reports whether the item has that very sense.
func (it *item) has(c class, name string) bool {
	for i := range it.senses {
		if it.senses[i].class == c && it.senses[i].name == name {
			return true
		}
	}
	return false
}

// name is the canonical word of the item in that class, "" if it has none.
// Where it has two of one class, the first language of the lexicon's order
// decides.
func (it *item) name(c class) string {
	for i := range it.senses {
		if it.senses[i].class == c {
			return it.senses[i].name
		}
	}
	return ""
}

// punct reports that very sign.
func (it *item) punct(s string) bool { return it.kind == tPunct && it.text == s }

// breaks reports a sign that ends a clause. The point of a date has been
// claimed by then and breaks nothing.
func (it *item) breaks() bool {
	return it.kind == tLine || it.kind == tPunct && (it.text == "," || it.text == ";" || it.text == "." || it.text == "?" || it.text == "!" || it.text == "/" || it.text == "|")
}

// known reports whether the word means anything here; a guard word does
// not, nor one that only says whom a message is for. Codes and numbers are never unknown words: they are judged by what
// they are near.
func (it *item) known() bool {
	if it.kind != tWord && it.kind != tCode || it.batch > 0 || it.used != "" {
		return true
	}
	for _, s := range it.senses {
		if s.class != cGuard && s.class != cTells && s.class != cToward && s.class != cManner && s.class != cPlain && s.class != cPour && s.class != cJoin && s.class != cPrefix && s.class != cAirlock && s.class != cBye && s.class != cSip && s.class != cAside {
			return true
		}
	}
	return false
}

// reader holds one message while it is understood.
type reader struct {
	text   string
	folded string
	ctx    *Context
	items  []item
	names  [][]string // folded words of each batch's name
	times  []timeSpan

	joined  []string        // the same, with blanks between
	nicks   [][]nick        // folded words of its nicknames
	clauses []clause        // of each item
	remark  []bool          // of each item: its clause speaks of smell or taste
	facts   map[string]bool // what was found of the whole message, looked for once
	sender  string          // folded
	judged  []bool          // of each item: its clause is weighed; nil for all
	plain   int8            // cached onlyKnown: 1 yes, 2 no

	toppedBy string // the batch that another was topped up with

	deedDone   bool // a deed that is the cellar's, or something put in, is told
	otherTwice bool // it is one that is done twice elsewhere: people are fined twice

	noDay  bool // a date is told that the calendar does not have, or a year alone
	begins bool // the message begins a batch: a volume is the batch's

	sighed []item // sounds before the first word that says something

	values  []value // what the numbers were taken for, to be explained
	foundBy string  // how the batch was found, to be explained
	unasked string  // a bare deed of a group that nothing asked for

	tailFrom, tailEnd int // tokens of the second part of a form with a gap
}

func readerOf(text string, ctx *Context) reader {
	return reader{text: text, folded: fold(text), ctx: ctx}
}

// read cuts, folds and looks up the words of a message. Spoken and torn
// numbers are joined first, since a name may hold a number too.
func (r *reader) read() {
	r.names = make([][]string, len(r.ctx.Batches))
	r.joined = make([]string, len(r.ctx.Batches))
	r.nicks = make([][]nick, len(r.ctx.Batches))
	for i := range r.ctx.Batches {
		r.names[i] = foldedWords(r.ctx.Batches[i].Name)
		r.joined[i] = strings.Join(r.names[i], " ")
		for _, n := range r.ctx.Batches[i].Nicks {
			r.nicks[i] = append(r.nicks[i], foldedWords(n))
		}
	}
	r.sender = fold(r.ctx.Sender)
	list := tokenLists.Get().(*[]token)
	toks := r.tokens(*list)
	r.items = make([]item, 0, len(toks))
	for i := 0; i < len(toks); {
		i += r.take(toks, i)
	}
	giveBack(list, toks)
	r.sighs()
	r.nameBeginnings()
	r.compounds()
	for i := range r.items {
		if it := &r.items[i]; r.ctx.told && it.fold == r.ctx.botName() {
			it.used = "bot"
		}
	}
}

// tokens cuts the text; torn, glued and spoken numbers are mended, and the letters that
// stand for words in chats written out.
func (r *reader) tokens(list []token) []token {
	toks := joinSpoken(dictated(mend(r.text, r.unglue(scanInto(list, r.text)))), r.names)
	lexicon().mendInner(toks)
	for i := range toks {
		if toks[i].fold == "comma" && i > 0 && i+1 < len(toks) { // dictated
			toks[i].kind, toks[i].text, toks[i].fold = tPunct, ",", ","
		}
		if w := strings.TrimSuffix(toks[i].fold, "'"); len(w) > 5 && strings.HasSuffix(w, "in") && toks[i].kind == tWord && lexicon().byFirst[w] == nil && lexicon().byFirst[w+"g"] != nil { // "startin'"
			toks[i].fold = w + "g"
		}
		if len(toks[i].fold) > 4 || toks[i].kind != tWord {
			continue
		}
		if w := lexicon().short[toks[i].fold]; w != "" && (i == 0 || toks[i-1].kind != tNum) && !(len(toks[i].fold) > 2 && r.beginsName(toks[i].fold)) {
			toks[i].fold = w
		}
	}
	return toks
}

// beginsName reports the beginning of a batch's name, or the name of somebody in the house.
func (r *reader) beginsName(w string) bool {
	for _, ws := range r.names {
		for _, x := range ws {
			if strings.HasPrefix(x, w) {
				return true
			}
		}
	}
	return w == r.sender || r.isMember(w)
}

// chatWords are letters that stand for a word in chats.
var chatWords = map[string]string{"u": "you", "ur": "your", "r": "are", "pls": "please", "plz": "please", "thx": "thanks", "cud": "could", "shud": "should", "wud": "would", "wen": "when"}

// sighs takes "oh", "um" and the like from the head of a message that goes on.
func (r *reader) sighs() {
	k := 0
	for k < len(r.items) && (sigh(r.items[k].fold) && r.items[k].batch == 0 || k > 0 && r.items[k].kind == tPunct) {
		k++
	}
	if k < len(r.items) {
		k += r.politeness(k)
		r.sighed, r.items = r.items[:k:k], r.items[k:]
	}
}

// politeness is how many items of "can you please" stand before a repair.
func (r *reader) politeness(k int) int {
	n := k
	switch r.items[n].fold {
	case "can", "could", "would", "will":
		if n++; n >= len(r.items) || r.items[n].fold != "you" {
			return 0
		}
		n++
	case "please", "pls", "plz":
	default:
		return 0
	}
	for n < len(r.items) && (r.items[n].fold == "please" || r.items[n].fold == "pls" || r.items[n].fold == "plz" || r.items[n].kind == tPunct) {
		n++
	}
	if n < len(r.items) && (r.items[n].is(cUndo) || r.items[n].is(cSay) && r.items[n].name(cSay) == "no") {
		return n - k
	}
	return 0
}

// sigh reports a sound that says nothing, however long it is drawn.
func sigh(w string) bool {
	if len(w) > 2 && len(w) < 12 {
		b := make([]byte, 0, 12)
		for i := range len(w) {
			if i == 0 || w[i] != w[i-1] {
				b = append(b, w[i])
			}
		}
		w = string(b)
	}
	switch w {
	case "oh", "ah", "aha", "uh", "um", "er", "erm", "hm", "eh", "ugh", "phew", "hach", "ach", "tja", "argh", "gr", "whoa", "nvm":
		return true
	}
	return false
}

// take appends the item that begins at token i and returns its length in
// tokens. Names come before the lexicon: a batch may be called "honey" or
// "may". Only then is a near miss looked for, and only for whole words.
func (r *reader) take(toks []token, i int) int {
	t := &toks[i]
	it := item{kind: t.kind, start: t.start, end: t.end, text: t.text, fold: t.fold, num: t.num, glued: t.glued}
	n := 1
	if i < r.tailEnd && i >= r.tailFrom { // the second part of a form with a gap
		it.used = "deed"
	}
	if b, k := r.exactName(toks, i); b > 0 && !lexicon().longerMaterial(toks, i, k) {
		it.batch, n = b, k
		it.kind = tWord
		if f := lexicon().at(toks, i); f != nil && len(f.words) == k {
			it.senses = f.senses
		}
	} else if b == 0 && k > 0 { // the number of a batch that is not open
		it.kind, it.unknownNo, n = tCode, true, k
		if p := len(r.items) - 1; p >= 0 && r.items[p].name(cAct) == "read" { // "reading #7"
			it.unknownNo, it.used = false, "count"
		}
	} else if t.kind != tNum && t.kind != tLine {
		if f := lexicon().at(toks, i); f != nil {
			it.senses, n = f.senses, len(f.words)
		} else if s, ok := strings.CutSuffix(t.fold, "'s"); ok && lexicon().single(s) != nil { // "temp's 19"
			it.senses = lexicon().single(s).senses
		} else if f := lexicon().squeezed(t.fold); f != nil { // "finallyyy"
			it.senses = f.senses
			it.fold = strings.Join(f.words, " ")
		} else if t.kind == tWord && i >= r.tailEnd {
			if f := lexicon().nearMiss(t.fold); f != nil {
				it.senses, it.slip = f.senses, true
			}
		}
	}
	if g, k := lexicon().gapAt(toks, i); g != nil && it.batch == 0 && it.name(g.senses[0].class) != g.senses[0].name {
		it.senses, n = g.senses, len(g.head)
		r.tailFrom, r.tailEnd = k, k+len(g.tail)
	}
	if i < r.tailFrom && i+n > r.tailFrom { // a longer form must not swallow the tail
		n = r.tailFrom - i
	}
	if n > 1 {
		it.end = toks[i+n-1].end
		it.text = r.text[it.start:it.end]
		it.fold = fold(it.text)
	}
	r.items = append(r.items, it)
	return n
}

// once looks for something in the whole message the first time it is asked for, so that
// rules may ask at every item and the work stays linear.
func (r *reader) once(fact string, look func() bool) bool {
	v, known := r.facts[fact]
	if !known {
		if r.facts == nil {
			r.facts = map[string]bool{}
		}
		v = look()
		r.facts[fact] = v
	}
	return v
}
