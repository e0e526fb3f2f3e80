package parse

import (
	"strings"
	"unicode/utf8"
)

// unglue cuts words and numbers that were typed without a space where each
// part means something: "gorse1.031", "racked8.4l", "3gnutrient",
// "1.031at19c". A mixture with a part that nobody knows stays one code: it
// may be a serial.
func (r *reader) unglue(toks []token) []token {
	from := 0
	for from < len(toks) && !r.glue(toks, from) {
		from++
	}
	if from == len(toks) {
		return toks
	}
	out := append(make([]token, 0, len(toks)+4), toks[:from]...)
	for i := from; i < len(toks); i++ {
		if parts := r.parts(toks, i); parts != nil {
			out = append(out, parts...)
		} else {
			out = append(out, toks[i])
		}
	}
	return out
}

// glue reports a token that may be several: a code, or an unknown word behind
// a number.
func (r *reader) glue(toks []token, i int) bool {
	t := &toks[i]
	return t.kind == tCode || t.kind == tWord && t.glued && i > 0 && toks[i-1].kind == tNum && lexicon().byFirst[t.fold] == nil
}

// parts cuts one token; nil where it stays as it is.
func (r *reader) parts(toks []token, i int) []token {
	if !r.glue(toks, i) {
		return nil
	}
	t := toks[i]
	if len(t.fold) == 3 && t.fold[0] == 'h' { // "19h30"
		return nil
	}
	for b := range r.names {
		if len(r.joined[b]) > 0 && compact(r.names[b]) == t.fold {
			return nil
		}
	}
	var out []token
	free := strings.HasPrefix(t.fold, "f") && behindSulphur(toks, i) // "so2 f25"
	plain := free                                                    // a point or a unit: enough to be a measure
	afterNum := i > 0 && toks[i-1].kind == tNum && t.glued
	for p := t.start; p < t.end; {
		q := runEnd(r.text, p, t.end)
		x := token{kind: tWord, start: p, end: q, text: r.text[p:q], glued: p > t.start || t.glued}
		x.fold = fold(x.text)
		if afterNum && x.fold == "be" && len(x.text) > len("be") {
			x.fold = "baume" // "rolle5,1Bé"
		}
		if isDigit(r.text[p]) {
			n, ok := parseNumber(x.text)
			if !ok {
				return nil
			}
			x.kind, x.num = tNum, n
			plain = plain || n.decimals > 0 || len(out) > 0 && n.val < 45 && roomOrLabel(out[len(out)-1].fold)
			out, afterNum, p = append(out, x), true, q
			continue
		}
		if !isLetterAt(r.text, p) {
			x.kind = tPunct
			out, afterNum, p = append(out, x), false, q
			continue
		}
		ws := r.cutWord(x, afterNum)
		if free && x.fold == "f" {
			ws = []token{x}
		}
		if ws == nil {
			return nil
		}
		plain = plain || afterNum && unitName(ws[0].fold) != ""
		out, afterNum, p = append(out, ws...), false, q
	}
	if !plain || len(out) < 2 {
		return nil
	}
	return out
}

// runEnd is where a run of letters, of digits with a point, or one sign ends.
func runEnd(text string, p, end int) int {
	if isDigit(text[p]) {
		q := p
		for q < end && (isDigit(text[q]) || (text[q] == '.' || text[q] == ',') && q+1 < end && isDigit(text[q+1])) {
			q++
		}
		return q
	}
	q := p
	for q < end && isLetterAt(text, q) {
		_, w := utf8.DecodeRuneInString(text[q:])
		q += w
	}
	if q == p {
		_, w := utf8.DecodeRuneInString(text[q:])
		q += w
	}
	return q
}

// cutWord takes a run of letters as a word of the cellar, a batch's name, or
// a unit with such a word behind it; nil for anything else.
func (r *reader) cutWord(x token, afterNum bool) []token {
	if r.gluable(x.fold, afterNum) {
		return []token{x}
	}
	if !afterNum || len(x.fold) != x.end-x.start {
		return nil
	}
	for k := min(3, len(x.fold)-1); k > 0; k-- {
		if unitName(x.fold[:k]) == "" || !r.gluable(x.fold[k:], false) {
			continue
		}
		u, w := x, x
		u.end, u.text, u.fold = x.start+k, x.text[:k], x.fold[:k]
		w.start, w.text, w.fold, w.glued = x.start+k, x.text[k:], x.fold[k:], true
		return []token{u, w}
	}
	return nil
}

// gluable reports a word that may stand without a space beside a number: a
// unit behind one, a name or a plain word of the cellar anywhere.
func (r *reader) gluable(w string, afterNum bool) bool {
	for b := range r.names {
		if len(r.names[b]) == 1 && r.names[b][0] == w {
			return true
		}
	}
	for _, f := range lexicon().byFirst[w] {
		if len(f.words) != 1 {
			continue
		}
		for _, s := range f.senses {
			switch s.class {
			case cUnit, cNoun:
				if afterNum {
					return true
				}
			case cDeed, cMaterial, cAmbient, cTType, cVerb, cDay, cWeekday, cNow:
				if len(w) > 1 {
					return true
				}
			case cLabel:
				return true
			case cFill:
				if w == "at" || w == "up" || w == "in" || w == "now" {
					return true
				}
			}
		}
	}
	return false
}

// unitName is the unit that a word names, "" for none.
func unitName(w string) string {
	if f := lexicon().single(w); f != nil {
		for _, s := range f.senses {
			if s.class == cUnit {
				return s.name
			}
		}
	}
	return ""
}

// roomOrLabel reports a word that needs a number: "room17", "tmp19".
func roomOrLabel(w string) bool {
	f := lexicon().single(w)
	return f != nil && (f.senses[0].class == cAmbient || f.senses[0].class == cLabel)
}

// compact is a name without its blanks: "elder26".
func compact(ws []string) string {
	if len(ws) == 1 {
		return ws[0]
	}
	s := ""
	for _, w := range ws {
		s += w
	}
	return s
}
