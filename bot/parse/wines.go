package parse

import (
	"slices"
	"strings"
)

// Wine is what the grammar of requests must know of a batch. Unlike a Batch it may be
// one that holds no wine any more.
type Wine struct {
	N     int
	Name  string
	Nicks []string
}

// wines finds batches by their names in a run of tokens.
type wines []Wine

// requestTokens are the tokens of a request without its signs; "&" and "+" join.
func requestTokens(text string) []token {
	var out []token
	for _, t := range scan(text[:min(len(text), MaxLength)]) {
		if t.kind == tLine || t.kind == tPunct && t.text != "&" && t.text != "+" && t.text != "#" {
			continue
		}
		out = append(out, t)
	}
	return out
}

// nameAt is the place in the list of the batch whose whole name or number ("#3") stands
// at token i, the longest name first, and how many tokens it takes; -1 for none.
func (ws wines) nameAt(toks []token, i int) (found, n int) {
	found = -1
	if toks[i].text == "#" && i+1 < len(toks) && toks[i+1].kind == tNum {
		return ws.numbered(toks[i+1]), 2
	}
	for b := range ws {
		for _, name := range append([]string{ws[b].Name}, ws[b].Nicks...) {
			if f := foldedWords(name); len(f) > n && matchWords(toks, i, f) {
				found, n = b, len(f)
			}
		}
	}
	return found, n
}

// numbered is the batch of that number; -1 for none.
func (ws wines) numbered(t token) int {
	for b := range ws {
		if t.kind == tNum && t.num.whole() && float64(ws[b].N) == t.num.val {
			return b
		}
	}
	return -1
}

// firstWord are the batches whose names have several words and begin with this one.
func (ws wines) firstWord(w string) (out []int) {
	for b := range ws {
		if f := foldedWords(ws[b].Name); len(f) > 1 && f[0] == w {
			out = append(out, b)
		}
	}
	return out
}

// begunAt is nameAt, or else the only batch that has a name beginning with the word.
func (ws wines) begunAt(toks []token, i int) (found, n int) {
	if found, n = ws.nameAt(toks, i); found >= 0 {
		return found, n
	}
	hit := -1
	for b := range ws {
		for _, name := range append([]string{ws[b].Name}, ws[b].Nicks...) {
			if f := foldedWords(name); len(f) > 0 && f[0] == toks[i].fold {
				if hit >= 0 && hit != b {
					return -1, 0
				}
				hit = b
			}
		}
	}
	if hit < 0 {
		return -1, 0
	}
	return hit, 1
}

// otherYear is the batch called like b but for its last word; -1 for none.
func (ws wines) otherYear(b int, year string) int {
	f := foldedWords(ws[b].Name)
	if len(f) < 2 {
		return -1
	}
	f[len(f)-1] = year
	for o := range ws {
		if slices.Equal(foldedWords(ws[o].Name), f) {
			return o
		}
	}
	return -1
}

// Batches are the numbers of the batches that a request names, in its order: "elder 25
// and 26", "#3". Where no name is there whole, a word that several begin with stands
// for all of them: "elder".
func Batches(text string, all []Wine) []int {
	ws, toks := wines(all), requestTokens(text)
	var out []int
	add := func(b int) {
		if b >= 0 && !slices.Contains(out, ws[b].N) {
			out = append(out, ws[b].N)
		}
	}
	for i := 0; i < len(toks); {
		b, n := ws.nameAt(toks, i)
		if n == 0 {
			i++
			continue
		}
		add(b)
		for i += n; b >= 0 && i < len(toks); i++ { // the other years: "and 26"
			if oneWord(toks[i].fold).isPour("next") {
				continue
			}
			other := ws.otherYear(b, toks[i].fold)
			if other < 0 {
				break
			}
			add(other)
		}
	}
	for i := 0; i < len(toks) && len(out) == 0; i++ {
		if hits := ws.firstWord(toks[i].fold); len(hits) > 1 {
			for _, b := range hits {
				add(b)
			}
		}
	}
	return out
}

// NamesWine reports that a text names one batch whole, with its year or without.
func NamesWine(text, name string) bool {
	toks, want := requestTokens(text), foldedWords(name)
	short := want
	if n := len(want); n > 1 && strings.Trim(want[n-1], "0123456789") == "" {
		short = want[:n-1]
	}
	for i := range toks {
		if matchWords(toks, i, want) || matchWords(toks, i, short) {
			return true
		}
	}
	return false
}

// isPour reports that part in a request about wines put together.
func (it *item) isPour(name string) bool {
	for _, s := range it.senses {
		if s.class == cPour && s.name == name {
			return true
		}
	}
	return false
}
