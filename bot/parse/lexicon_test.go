package parse

import (
	"slices"
	"strings"
	"testing"
)

// TestLexiconForms: every form of every language is found as itself, with its
// sense, at the head of a text.
func TestLexiconForms(t *testing.T) {
	n := 0
	files, _ := lexicons.ReadDir("lexicon")
	if len(files) != 12 {
		t.Errorf("%d languages", len(files))
	}
	for _, f := range files {
		data, err := lexicons.ReadFile("lexicon/" + f.Name())
		if err != nil {
			t.Fatal(err)
		}
		for _, line := range strings.Split(string(data), "\n") {
			if line == "" || strings.HasPrefix(line, "#") {
				continue
			}
			head, forms, _ := strings.Cut(line, ": ")
			cls, name, _ := strings.Cut(head, " ")
			c, ok := classOf(cls)
			if !ok {
				t.Errorf("%s: no class %q", f.Name(), cls)
			}
			for _, form := range strings.Split(forms, ";") {
				for _, form := range expand(strings.TrimSpace(form)) {
					if form == "" {
						continue
					}
					n++
					if head, tail, ok := strings.Cut(form, " .. "); ok {
						if g, _ := lexicon().gapAt(scan(head+" it "+tail), 0); g == nil || !slices.ContainsFunc(g.senses, func(s sense) bool { return s.class == c && s.name == name }) {
							t.Errorf("%s: %q is not found around a word", f.Name(), form)
						}
						continue
					}
					if c == cFining {
						if _, n := finingAt(scan(form), 0); n == 0 {
							t.Errorf("%s: %q is not found as finings", f.Name(), form)
						}
						continue
					}
					if c == cWhole {
						if !wholly("  "+form+"! ", name) {
							t.Errorf("%s: %q is not wholly %q", f.Name(), form, name)
						}
						continue
					}
					if !hasSense(form, c, name) {
						t.Errorf("%s: %q is not found as %s %s", f.Name(), form, cls, name)
					}
				}
			}
		}
	}
	if n < 3000 {
		t.Errorf("only %d forms", n)
	}
}

func hasSense(form string, c class, name string) bool {
	toks := scan(form)
	if len(toks) == 0 {
		return false
	}
	for _, f := range lexicon().byFirst[toks[0].fold] {
		if !sameWords(f.words, foldedWords(form)) {
			continue
		}
		for _, s := range f.senses {
			if s.class == c && s.name == name {
				return true
			}
		}
	}
	return false
}

// TestSlips: one slip is forgiven in a long word, two are not, and everyday words
// that are one letter from a word of the cellar are left alone.
func TestSlips(t *testing.T) {
	for w, want := range map[string]string{"gravty": "gravity", "temperture": "temperature", "yesterdsy": "yesterday", "nutreint": "nutrient", "degased": "degassed", "bentonitte": "bentonite", "sulphitte": "sulphite"} {
		if f := lexicon().nearMiss(w); f == nil || f.senses[0].class == cGuard {
			t.Errorf("%q is not taken for %q", w, want)
		}
	}
	for _, w := range []string{"tracked", "backed", "train", "gravel", "rack", "stained", "ditched", "dressed"} {
		if it := (item{senses: sensesOf(w)}); it.is(cDeed) || it.is(cLabel) {
			t.Errorf("%q is taken for a word of the cellar", w)
		}
	}
}

func sensesOf(w string) []sense {
	toks := scan(w)
	if f := lexicon().at(toks, 0); f != nil {
		return f.senses
	}
	if f := lexicon().nearMiss(w); f != nil {
		return f.senses
	}
	return nil
}

// TestOneSlip: wrong, missing, doubled letter, and neighbours swapped.
func TestOneSlip(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{{"gorse", "gorze", true}, {"gorse", "gors", true}, {"gorse", "goorse", true}, {"gorse", "grose", true}, {"gorse", "gorse", false}, {"gorse", "grsoe", false}, {"gorse", "horsey", false}} {
		if oneSlip(c.a, c.b) != c.want || oneSlip(c.b, c.a) != c.want {
			t.Errorf("oneSlip(%q, %q) is not %v", c.a, c.b, c.want)
		}
	}
}

// TestTwoStartsReadAlike: what a slip is taken for must not hang on the order in which a
// map is walked. "cooked" lies between "choked" and "corked".
func TestTwoStartsReadAlike(t *testing.T) {
	a, b := loadLexicon(), loadLexicon()
	for k, fs := range a.slips {
		if !slices.EqualFunc(fs, b.slips[k], func(x, y *form) bool { return x.words[0] == y.words[0] }) {
			t.Fatalf("%q leads to other forms, or in another order", k)
		}
	}
	c, d := loadAlarms(), loadAlarms()
	for k, ws := range c.slips {
		if !slices.Equal(ws, d.slips[k]) {
			t.Fatalf("%q leads to %q and to %q", k, ws, d.slips[k])
		}
	}
}
