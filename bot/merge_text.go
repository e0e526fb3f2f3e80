package bot

import (
	"strconv"
	"strings"

	"mustbook/ferment"
)

// pouring is what a text says of wines put together.
type pouring struct {
	parts   []blended // litres 0: all there is
	into    string    // the name after "into"; empty: not said
	unknown string    // a word where a batch should stand
}

// linkWords stand between the parts. Behind those that are true comes the next part, or a
// further thing that was done.
var linkWords = map[string]bool{"and": true, "with": true, "plus": true, "&": true, "+": true, "to": false, "of": false}

// readPouring finds the parts in "merge gorse a and b", "blended 10 l elder with 5 l apple
// into house red".
func readPouring(said, units string, open []*ferment.State) pouring {
	var p pouring
	words := strings.FieldsFunc(said, func(r rune) bool { return strings.ContainsRune(" \t\n\r?!;,", r) })
	low := make([]string, len(words))
	for i, w := range words {
		words[i] = strings.Trim(w, ":.#")
		low[i] = strings.ToLower(words[i])
	}
	litres, linked := 0.0, false
	for i := 0; i < len(low); {
		if (low[i] == "into" || low[i] == "called" || low[i] == "as") && len(p.parts) > 0 {
			p.into = strings.Join(nameAfter(words[i+1:]), " ")
			break
		}
		if v, n := litresAt(low[i:], units, open); n > 0 && low[i] != "" {
			litres, i = v, i+n
			continue
		}
		s, n := named(low[i:], open)
		if s == nil {
			s = numbered(low[i], open)
		}
		if s == nil && len(p.parts) > 0 {
			s, n = sibling(p.parts[len(p.parts)-1].s, low[i], open)
		}
		switch {
		case s != nil && s.N != lastOf(p.parts):
			p.parts = append(p.parts, blended{s, litres})
			litres, linked = 0, false
		case s == nil && isLink(low[i]):
			linked = linked || linkWords[low[i]]
		case s == nil && (litres > 0 || linked) && !strings.HasSuffix(low[i], "ed") && !fillers[low[i]]:
			p.unknown = words[i]
			return p
		}
		i += max(n, 1)
	}
	return p
}

func isLink(word string) bool {
	_, is := linkWords[word]
	return is
}

// fillers are words that are neither a batch nor the end of one's name.
var fillers = map[string]bool{"the": true, "our": true, "my": true, "it": true, "them": true, "both": true, "all": true, "rest": true, "then": true,
	"together": true, "batch": true, "batches": true, "wine": true, "litres": true, "liters": true}

func lastOf(parts []blended) int {
	if len(parts) == 0 {
		return 0
	}
	return parts[len(parts)-1].s.N
}

// nameAfter are the words of a new batch's name, up to what speaks of a time or a vessel.
func nameAfter(words []string) []string {
	for i, w := range words {
		switch strings.ToLower(w) {
		case "the", "a", "one", "new", "batch", "called":
			if i == 0 {
				return nameAfter(words[1:])
			}
		case "yesterday", "today", "now", "on", "at", "in", "this", "last", "tonight":
			return words[:i]
		}
		if i == 4 {
			return words[:i]
		}
	}
	return words
}

// numbered reads "2" as the batch of that number.
func numbered(word string, open []*ferment.State) *ferment.State {
	for _, s := range open {
		if strconv.Itoa(s.N) == word {
			return s
		}
	}
	return nil
}

// sibling reads "b" after "gorse a" as "gorse b".
func sibling(of *ferment.State, word string, open []*ferment.State) (*ferment.State, int) {
	cut := strings.LastIndexByte(of.Name, ' ')
	if cut < 0 || len(word) > 2 {
		return nil, 0
	}
	want := strings.ToLower(of.Name[:cut+1]) + word
	for _, s := range open {
		if strings.ToLower(s.Name) == want {
			return s, 1
		}
	}
	return nil, 0
}

// blendName names a blend of which nobody has said the name: parts of one whole get its
// name back, others all their names together.
func (t *turn) blendName(parts []blended) string {
	stem, whole := "", true
	var names []string
	for i, p := range parts {
		cut := strings.LastIndexByte(p.s.Name, ' ')
		names = append(names, p.s.Name)
		if cut < 0 || len(p.s.Name)-cut > 2 || i > 0 && !strings.EqualFold(stem, p.s.Name[:cut]) {
			whole = false
			continue
		}
		stem = p.s.Name[:cut]
	}
	if whole && t.free(stem) {
		return stem
	}
	name := strings.Join(names, " ")
	for !t.free(name) {
		name += " blend"
	}
	return name
}

// free reports that no batch that holds wine has a name.
func (t *turn) free(name string) bool {
	for _, s := range t.bk.open() {
		if strings.EqualFold(s.Name, name) {
			return false
		}
	}
	return true
}
