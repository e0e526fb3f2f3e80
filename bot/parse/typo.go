package parse

// minSlipLen is the shortest word in which one slip is forgiven: in a
// shorter one too many words are one letter apart.
const minSlipLen = 5

// minForeignSlipLen is the same for the words of the other languages: most
// households type English, and its everyday words lie one letter from many
// short words of nine languages ("offer", "offert").
const minForeignSlipLen = 7

// forgiving says in which classes a slip is forgiven. Words that only rule
// a reading out, and words of other topics, must be typed in full. Words
// that begin a repair, a plan or another topic change the meaning of
// everything around them; a slip there must not.
func forgiving(c class) bool {
	switch c {
	case cLabel, cUnit, cMaterial, cDeed, cDay, cDaypart, cWeekday, cMonth, cIdent, cAmbient, cUndo:
		return true
	}
	return false
}

// indexSlips prepares the search for near misses: two words are one slip
// apart only if they share a form with one letter left out. Leaving out
// each letter in turn costs a few ten thousand strings once, and a handful
// of look-ups a word.
func (d *dictionary) indexSlips() {
	for _, first := range d.firsts {
		for _, f := range d.byFirst[first] {
			d.indexInner(f)
			if f.exact || len(f.words) != 1 || len(f.words[0]) < minSlipLen || !anyForgiving(f.senses) || f.senses[0].lang != "en" && len(f.words[0]) < minForeignSlipLen {
				continue
			}
			w := f.words[0]
			d.slips[w] = append(d.slips[w], f)
			for i := range w {
				k := w[:i] + w[i+1:]
				d.slips[k] = append(d.slips[k], f)
			}
		}
	}
}

// minInnerLen is the shortest word of a longer form in which a slip is mended.
const minInnerLen = 6

// indexInner files the long words of a form of several words; "" where two words
// are told apart by the letter that is left out.
func (d *dictionary) indexInner(f *form) {
	if len(f.words) < 2 || !anyForgiving(f.senses) {
		return
	}
	file := func(k, w string) {
		if old, ok := d.inner[k]; ok && old != w {
			w = ""
		}
		d.inner[k] = w
	}
	for _, w := range f.words {
		if len(w) < minInnerLen {
			continue
		}
		file(w, w)
		for i := range w {
			file(w[:i]+w[i+1:], w)
		}
	}
}

// mendInner mends a slip in a word of a longer form, where the form then stands
// there whole: "spcific gravity", "this mornin".
func (d *dictionary) mendInner(toks []token) {
	for i := range toks {
		t := &toks[i]
		if t.kind != tWord || len(t.fold) < minInnerLen || len(t.fold) > 20 || d.byFirst[t.fold] != nil {
			continue
		}
		typed := t.fold
		w := d.inner[typed]
		for k := 0; k < len(typed) && w == ""; k++ {
			w = d.inner[typed[:k]+typed[k+1:]]
		}
		if w == "" || w == typed || w[0] != typed[0] || !oneSlip(typed, w) {
			continue
		}
		t.fold = w
		whole := false
		for j := max(0, i-3); j <= i && !whole; j++ {
			f := d.at(toks, j)
			whole = f != nil && len(f.words) > 1 && j+len(f.words) > i
		}
		if !whole {
			t.fold = typed
		}
	}
}

// indexShort files the small words of three or four letters with two neighbours swapped, "teh"
// and "adn", beside what stands for a word in chats. Thumbs swap more often than they do
// anything else; a wrong letter in so short a word is not forgiven.
func (d *dictionary) indexShort() {
	for _, first := range d.firsts {
		for _, f := range d.byFirst[first] {
			if len(f.words) != 1 || len(f.words[0]) < 3 || len(f.words[0]) > 4 || !f.small() {
				continue
			}
			for i := range len(f.words[0]) - 1 {
				b := []byte(f.words[0])
				b[i], b[i+1] = b[i+1], b[i]
				w := string(b)
				if old, ok := d.short[w]; ok && old < f.words[0] || d.byFirst[w] != nil {
					continue
				}
				d.short[w] = f.words[0]
			}
		}
	}
	for w, whole := range chatWords {
		d.short[w] = whole
	}
}

// small reports one of the small words of English.
func (f *form) small() bool {
	for _, s := range f.senses {
		if s.lang == "en" && (s.class == cFill || s.class == cPron || s.class == cQ) {
			return true
		}
	}
	return false
}

// anyForgiving reports that at least one sense may be typed with a slip.
func anyForgiving(ss []sense) bool {
	for _, s := range ss {
		if forgiving(s.class) {
			return true
		}
	}
	return false
}

// nearMiss finds the one form that w is a slip of; nil where there is none
// or where two mean different things. The first letter must be right:
// people look at it. Everyday words that are one letter away from a word
// of the cellar are in the lexicon as guards, so they are found exactly
// and never come here.
func (d *dictionary) nearMiss(w string) *form {
	if len(w) < minSlipLen-1 || len(w) > 20 {
		return nil
	}
	var hit *form
	try := func(k string) bool {
		for _, f := range d.slips[k] {
			if len(w) < minSlipLen && f.senses[0].class != cMaterial { // "hony"
				continue
			}
			if f == hit || f.words[0][0] != w[0] || !oneSlip(w, f.words[0]) {
				continue
			}
			if hit != nil && (hit.senses[0].class != f.senses[0].class || hit.senses[0].name != f.senses[0].name) {
				return false
			}
			hit = f
		}
		return true
	}
	var buf [20]byte
	if !try(w) {
		return nil
	}
	for i := range len(w) {
		k := append(append(buf[:0], w[:i]...), w[i+1:]...)
		if !try(string(k)) {
			return nil
		}
	}
	return hit
}

// oneSlip reports whether one letter wrong, missing, doubled or two
// neighbours swapped turns a into b. It compares bytes: both are folded.
// Two neighbours swapped count as one slip, because thumbs do that.
func oneSlip(a, b string) bool {
	if a == b {
		return false
	}
	if len(a) > len(b) {
		a, b = b, a
	}
	if len(b)-len(a) > 1 {
		return false
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	if len(a) < len(b) {
		return a[i:] == b[i+1:]
	}
	if a[i+1:] == b[i+1:] {
		return true
	}
	return i+1 < len(a) && a[i] == b[i+1] && a[i+1] == b[i] && a[i+2:] == b[i+2:]
}
