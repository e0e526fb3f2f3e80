package parse

import (
	"strings"

	"mustbook/ferment"
)

// Part is a wine in the words of a blend, and how many litres of it; 0: all there is.
type Part struct {
	N      int
	Litres float64
}

// Pouring is what a text says of wines put together.
type Pouring struct {
	Parts   []Part
	Into    string // the name after "into"; empty: not said
	Unknown string // a word where a batch should stand
}

// Poured finds the parts in "merge gorse a and b", "blended 10 l elder with 5 l apple into
// house red". units are the house's: they say which gallon is meant.
func Poured(text, units string, open []Wine) Pouring {
	var p Pouring
	ws, toks := wines(open), requestTokens(text)
	litres, linked, last := 0.0, false, -1
	for i := 0; i < len(toks); {
		w := oneWord(toks[i].fold)
		if w.isPour("into") && len(p.Parts) > 0 {
			p.Into = nameBehind(text, toks[i+1:])
			break
		}
		if v, n := ws.litresAt(toks, i, units); n > 0 {
			litres, i = v, i+n
			continue
		}
		b, n := ws.begunAt(toks, i)
		if b < 0 {
			b = ws.numbered(toks[i])
		}
		if b < 0 && last >= 0 {
			b = ws.sibling(last, toks[i].fold)
		}
		switch {
		case b >= 0 && b != last:
			p.Parts = append(p.Parts, Part{ws[b].N, litres})
			litres, linked, last = 0, false, b
		case b < 0 && w.isPour("next"):
			linked = true
		case b < 0 && (litres > 0 || linked) && toks[i].kind != tPunct && !w.isPour("small") && !w.is(cDeed) && !strings.HasSuffix(toks[i].fold, "ed"):
			p.Unknown = toks[i].text
			return p
		}
		i += max(n, 1)
	}
	return p
}

// sibling reads "b" after "gorse a" as "gorse b"; -1 for none.
func (ws wines) sibling(of int, w string) int {
	if len(w) > 2 {
		return -1
	}
	return ws.otherYear(of, w)
}

// mostName bounds the words of a new name.
const mostName = 4

// nameBehind are the words of a new batch's name as typed, up to what speaks of a time or
// a vessel.
func nameBehind(text string, toks []token) string {
	from := 0
	for from < len(toks) && oneWord(toks[from].fold).isPour("lead") {
		from++
	}
	to := from
	for to < len(toks) && to < from+mostName && !oneWord(toks[to].fold).isPour("stop") && (to == from || !strings.ContainsAny(text[toks[to-1].end:toks[to].start], ",;\n")) {
		to++
	}
	var words []string
	for _, t := range toks[from:to] {
		words = append(words, t.text)
	}
	return strings.Join(words, " ")
}

// litresAt reads "10l", "10 l", "1.5 gal" or a number before a batch's name, and how many
// tokens it took; 0: no amount.
func (ws wines) litresAt(toks []token, i int, units string) (float64, int) {
	t := toks[i]
	if t.kind != tNum || t.num.val <= 0 {
		return 0, 0
	}
	if i+1 < len(toks) {
		u := oneWord(toks[i+1].fold).name(cUnit)
		if l, ok := ferment.LitresOf(t.num.val, houseVolume(u, units)); ok {
			return l, 2
		}
		if b, _ := ws.begunAt(toks, i+1); b >= 0 || toks[i+1].fold == "of" {
			return t.num.val, 1
		}
	}
	return 0, 0
}

// houseVolume names a unit of volume as the book does; a gallon is the house's, and none in
// a metric one.
func houseVolume(unit, units string) string {
	switch unit {
	case "L", "mL":
		return unit
	case "USgal":
		return "US gal"
	case "impgal":
		return "imp gal"
	case "gal":
		return map[string]string{"us": "US gal", "uk": "imp gal"}[units]
	}
	return ""
}

// BlendParts finds each amount with the batch that it stands before. An amount that
// belongs to no known batch leaves nothing: a blend without one of its parts would be a
// wrong answer.
func BlendParts(text, units string, open []Wine) []Part {
	var out []Part
	ws, toks := wines(open), requestTokens(text)
	litres := 0.0
	for i := 0; i < len(toks); {
		if v, n := ws.litresAt(toks, i, units); n > 0 {
			if litres > 0 {
				return nil
			}
			litres, i = v, i+n
			continue
		}
		b, n := ws.begunAt(toks, i)
		if b >= 0 && litres > 0 {
			out = append(out, Part{ws[b].N, litres})
			litres = 0
		}
		i += max(n, 1)
	}
	if litres > 0 {
		return nil
	}
	return out
}

// SplitInto reads how many litres each part gets where that was said, else into how many
// parts: "split plum 6 l and 3 l", "split plum into 3"; 0 where neither is.
func SplitInto(text, units string) (litres []float64, parts int) {
	toks := requestTokens(text)
	for i := 0; i < len(toks); {
		if v, n := (wines)(nil).litresAt(toks, i, units); n > 0 {
			litres = append(litres, v)
			i += n
			continue
		}
		if i > 0 && (toks[i-1].fold == "into" || toks[i-1].fold == "in") {
			if toks[i].kind == tNum && toks[i].num.whole() {
				parts = int(toks[i].num.val)
			} else if n, ok := oneWord(toks[i].fold).wordCount(); ok && n > 1 && n == float64(int(n)) {
				parts = int(n)
			}
		}
		i++
	}
	return litres, parts
}

// Imperative reports a text that asks for a blend to be made or worked out: it begins with
// the verb, and asks nothing.
func Imperative(text string) bool {
	toks := requestTokens(text)
	return len(toks) > 0 && oneWord(toks[0].fold).name(cAct) == "blended" && !strings.Contains(text, "?")
}
