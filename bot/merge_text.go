package bot

import (
	"strings"

	"mustbook/bot/parse"
	"mustbook/ferment"
)

// pouring is what a text says of wines put together.
type pouring struct {
	parts   []blended // litres 0: all there is
	into    string    // the name after "into"; empty: not said
	unknown string    // a word where a batch should stand
}

// poured is that of a text, of the batches that hold wine.
func (bk *book) poured(said string) pouring {
	p := parse.Poured(said, bk.style.Units, winesOf(bk.open()))
	return pouring{parts: bk.parts(p.Parts), into: p.Into, unknown: p.Unknown}
}

// parts are the wines of a blend as the book has them.
func (bk *book) parts(ps []parse.Part) (out []blended) {
	for _, p := range ps {
		out = append(out, blended{bk.batch(p.N), p.Litres})
	}
	return out
}

// winesOf tells the grammar what batches are called.
func winesOf(ss []*ferment.State) (out []parse.Wine) {
	for _, s := range ss {
		out = append(out, parse.Wine{N: s.N, Name: s.Name, Nicks: s.Names})
	}
	return out
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
