package parse

import "strings"

// quoteMarks are the signs that open a quotation and those that close it.
var quoteMarks = []struct{ open, close string }{{"\"", "\""}, {"“", "”"}, {"„", "“"}, {"«", "»"}, {"»", "«"}}

// leastQuoted is how many words of another are a quotation; less is a title or a name.
const leastQuoted = 3

// ownWords is a text without what it quotes: lines behind ">" and longer runs between
// quotation marks. What somebody else said is not what the sender measured.
func ownWords(text string) string {
	if !strings.ContainsAny(text, ">\"“„«»") {
		return text
	}
	lines := strings.Split(text, "\n")
	own := lines[:0]
	for _, l := range lines {
		if t := strings.TrimSpace(l); len(t) > 1 && t[0] == '>' && t[1] != '-' {
			continue
		}
		own = append(own, l)
	}
	text = strings.Join(own, "\n")
	for _, m := range quoteMarks {
		text = unquoted(text, m.open, m.close)
	}
	return text
}

// unquoted leaves an ellipsis where a quotation between two marks stood.
func unquoted(text, open, shut string) string {
	var b strings.Builder
	for {
		from := strings.Index(text, open)
		if from < 0 {
			break
		}
		n := strings.Index(text[from+len(open):], shut)
		if n < 0 {
			break
		}
		to := from + len(open) + n + len(shut)
		if len(strings.Fields(text[from:to])) < leastQuoted {
			b.WriteString(text[:to])
		} else {
			b.WriteString(text[:from] + "…")
		}
		text = text[to:]
	}
	if b.Len() == 0 {
		return text
	}
	b.WriteString(text)
	return b.String()
}

// sheetSays marks what a kit's sheet says to do: nothing of it is done by its being told.
func (r *reader) sheetSays() {
	for i := range r.items {
		it := &r.items[i]
		if it.kind == tNum && gravityItem(it) && r.saidInGroup() && r.writtenOn(i) {
			it.used = "quoted"
		}
		if i == 0 && r.recipeHead() {
			_, to := r.sentenceOf(0)
			for j := range to {
				if r.items[j].kind == tNum && r.items[j].used == "" {
					r.items[j].used = "quoted"
				}
			}
		}
		if !it.is(cObs) || !strings.HasSuffix(it.fold, " says") && !strings.HasSuffix(it.fold, " say") && !strings.HasSuffix(it.fold, " said") && !strings.HasSuffix(it.fold, " reckons") && !strings.HasSuffix(it.fold, " claims") {
			continue
		}
		deed := false
		k := i + 1
		for ; k < len(r.items) && !r.items[k].breaks(); k++ {
			deed = deed || r.items[k].is(cAct) || r.items[k].is(cDeed) || gravityItem(&r.items[k])
		}
		if !deed {
			continue
		}
		r.dropTimes(i, k)
		for j := i + 1; j < k; j++ {
			if r.items[j].batch == 0 && r.items[j].used == "" {
				r.items[j].used = "quoted"
			}
		}
	}
}

// writtenOn reports that the number at k stands on a thing that one writes on, "1.044 on the old
// label", and that nobody tells of having written it: it says what was, and nothing of today.
func (r *reader) writtenOn(k int) bool {
	from, to := r.clauseOf(k)
	written := false
	for j, on := k+1, false; j < to && !written; j++ {
		it := &r.items[j]
		switch {
		case on && it.has(cAside, "written"):
			written = true
		case it.has(cAside, "by"):
			on = true
		case on && !it.is(cFill) && !it.is(cArt) || it.kind == tNum || !on && !it.is(cUnit) && !it.is(cFill):
			return false
		}
	}
	for j := from; j < k && written; j++ {
		it := &r.items[j]
		written = !it.is(cVerb) && !it.is(cDeed) && (it.known() || it.is(cPlain))
	}
	return written
}

// recipeHead reports "recipe:" at the head of what a group is told: its figures are of no wine.
func (r *reader) recipeHead() bool {
	if r.addressed() || len(r.items) < 2 || !r.items[1].punct(":") {
		return false
	}
	switch r.items[0].fold {
	case "recipe", "rezept", "recette", "receta", "ricetta", "recept", "przepis", "receita":
		return true
	}
	return false
}
