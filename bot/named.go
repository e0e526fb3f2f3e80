package bot

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"mustbook/ferment"
)

// named finds the batches of a request, in the order in which the text names them:
// "elder 25 and 26", "#3". Those that hold no wine any more are found too, which is
// what sets this apart from how a reading finds its batch. Where no name is there
// whole, a word that several begin with stands for all of them: "elder".
func (bk *book) named(text string) []*ferment.State {
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '#'
	})
	var out []*ferment.State
	add := func(s *ferment.State) {
		if s != nil && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	for i := 0; i < len(words); {
		s, n := bk.nameAt(words[i:])
		if n == 0 {
			i++
			continue
		}
		add(s)
		for i += n; i < len(words); i++ { // the other years: "and 26"
			if words[i] == "and" {
				continue
			}
			other := bk.sameOf(s, words[i])
			if other == nil {
				break
			}
			add(other)
		}
	}
	if len(out) > 0 {
		return out
	}
	for _, w := range words {
		var all []*ferment.State
		for _, s := range bk.batches {
			if f := strings.Fields(strings.ToLower(s.Name)); len(f) > 1 && f[0] == w {
				all = append(all, s)
			}
		}
		if len(all) > 1 {
			return all
		}
	}
	return nil
}

// nameAt is the batch whose name or number the words begin with, the longest name
// first, and how many words it takes.
func (bk *book) nameAt(words []string) (found *ferment.State, n int) {
	if k, err := strconv.Atoi(strings.TrimPrefix(words[0], "#")); err == nil && words[0][0] == '#' {
		return bk.batch(k), 1
	}
	for _, s := range bk.batches {
		for _, name := range append([]string{s.Name}, s.Names...) {
			f := strings.Fields(strings.ToLower(name))
			if len(f) > n && len(f) <= len(words) && slices.Equal(f, words[:len(f)]) {
				found, n = s, len(f)
			}
		}
	}
	return found, n
}

// sameOf is the batch called like another but for its year; nil where there is none.
func (bk *book) sameOf(s *ferment.State, year string) *ferment.State {
	f := strings.Fields(strings.ToLower(s.Name))
	if len(f) < 2 {
		return nil
	}
	f[len(f)-1] = year
	for _, o := range bk.batches {
		if slices.Equal(strings.Fields(strings.ToLower(o.Name)), f) {
			return o
		}
	}
	return nil
}
