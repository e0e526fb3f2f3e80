package parse

import "strings"

// gapAt finds a form in two parts that begins at token i, and the token at
// which its second part begins; nil for none. Signs and numbers end the
// search.
func (d *dictionary) gapAt(toks []token, i int) (*gapForm, int) {
	for _, g := range d.gapped[toks[i].fold] {
		if !matchWords(toks, i, g.head) {
			continue
		}
		from := i + len(g.head)
		for k := from; k <= from+maxGap && k < len(toks); k++ {
			if k > from && matchWords(toks, k, g.tail) {
				return g, k
			}
			if toks[k].kind == tPunct || toks[k].kind == tLine {
				break
			}
		}
	}
	return nil, 0
}

// at returns the longest form that begins at token i. Longer forms come
// first in the list, so "last night" is one time and not a "last" and a
// "night".
func (d *dictionary) at(toks []token, i int) *form {
	next := ""
	if i+1 < len(toks) {
		next = toks[i+1].fold
	}
	for _, f := range d.byFirst[toks[i].fold] {
		if len(f.words) > len(toks)-i || len(f.words) > 1 && !strings.HasPrefix(next, f.words[1]) {
			continue
		}
		ok := true
		for k := 1; k < len(f.words); k++ {
			if toks[i+k].fold != f.words[k] && !(k == len(f.words)-1 && f.timely() && strings.TrimSuffix(toks[i+k].fold, "'s") == f.words[k]) {
				ok = false
				break
			}
		}
		if ok && !(len(f.words) > 1 && f.senses[0].class == cDeed && d.cutsForm(toks, i+len(f.words)-1)) {
			return f
		}
	}
	return nil
}

// timely reports a day or a part of one, or what stands for a batch, of which "'s" may be
// said: "this morning's reading".
func (f *form) timely() bool {
	switch f.senses[0].class {
	case cDay, cDaypart, cWeekday, cNow, cSet: // "the other one's 1.009"
		return true
	}
	return false
}

// single is the form of that one word; nil for none.
func (d *dictionary) single(w string) *form { return d.alone[w] }

// squeezed is the form of a word that was drawn out: a letter three times and more is
// one or two of it.
func (d *dictionary) squeezed(w string) *form {
	drawn := false
	for i := 2; i < len(w) && !drawn; i++ {
		drawn = w[i] == w[i-1] && w[i] == w[i-2] && letter(w[i])
	}
	if !drawn || len(w) > 40 {
		return nil
	}
	for keep := 1; keep <= 2; keep++ {
		b := make([]byte, 0, len(w))
		for i := range len(w) {
			n := 0
			for k := i; k > 0 && w[k] == w[k-1]; k-- {
				n++
			}
			run := n
			for k := i; k+1 < len(w) && w[k+1] == w[k]; k++ {
				run++
			}
			if run < 2 || n < keep {
				b = append(b, w[i])
			}
		}
		if f := d.single(string(b)); f != nil {
			return f
		}
	}
	return nil
}

// cutsForm reports that a longer form begins at token i: "added yeast"
// must not cut "yeast nutrient" in two. Only deeds swallow a material's
// first word so.
func (d *dictionary) cutsForm(toks []token, i int) bool {
	for _, f := range d.byFirst[toks[i].fold] {
		if len(f.words) > 1 && f.senses[0].class == cMaterial && matchWords(toks, i, f.words) {
			return true
		}
	}
	return false
}

// longerMaterial reports that a material of more than n words begins at token i: "apple
// juice" is none of the apple wine.
func (d *dictionary) longerMaterial(toks []token, i, n int) bool {
	f := d.at(toks, i)
	return f != nil && len(f.words) > n && f.senses[0].class == cMaterial
}

// unitWord reports a word that is a unit. Things and materials count too:
// what follows a number and names what it counts.
func (d *dictionary) unitWord(w string) bool {
	if f := d.single(w); f != nil {
		for _, s := range f.senses {
			if s.class == cUnit || s.class == cNoun || s.class == cMaterial {
				return true
			}
		}
	}
	return false
}
