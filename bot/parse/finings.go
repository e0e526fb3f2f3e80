package parse

import "strings"

// FiningsNamed are finings by what they are made of, and the parts of a pair, as a text
// names them, in its order. Which it was decides what guests must be told, and what goes
// in next.
func FiningsNamed(text string) []string {
	var out []string
	toks := scan(text[:min(len(text), MaxLength)])
	for i := 0; i < len(toks); {
		name, n := finingAt(toks, i)
		if n > 0 {
			out = append(out, name)
		}
		i += max(n, 1)
	}
	return out
}

// finingAt is the name that begins at token i and how many tokens it takes, the longest
// first. A part of a pair says that it is one of finings.
func finingAt(toks []token, i int) (name string, n int) {
	for _, f := range lexicon().finings {
		if len(f.words) > n && matchWords(toks, i, f.words) {
			n, name = len(f.words), strings.Join(f.words, " ")
			if f.senses[0].name == "part" {
				name = "finings, " + name
			}
		}
	}
	return name, n
}

// Receiver is to whom bottles went: what stands behind "to", in small letters.
func Receiver(text string) string {
	toks := scan(text[:min(len(text), MaxLength)])
	for i := range toks {
		if toks[i].fold != "to" || i == 0 || i+1 == len(toks) {
			continue
		}
		k := i + 1
		for k < len(toks) && toks[k].text != "," && toks[k].kind != tLine {
			k++
		}
		if k > i+1 {
			return strings.TrimSpace(strings.TrimRight(strings.ToLower(text[toks[i+1].start:toks[k-1].end]), " .!"))
		}
	}
	return ""
}
