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
