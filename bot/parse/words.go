package parse

import "strings"

// choices are words and phrases of which a text may have one, cut apart once and with the
// letters that begin them: many are tried on every message, and those letters rule out most.
type choices struct {
	forms []string
	first initials
}

// anyOf cuts alternatives with "|" between them.
func anyOf(alternatives string) choices {
	c := choices{forms: strings.Split(alternatives, "|")}
	for _, a := range c.forms {
		c.first |= initial(a[0])
	}
	return c
}

// in reports one of them at the beginning of a word of f, of which the letters that
// begin its words are known. Those of up to three letters must be whole words: "he" is
// not "here", "am" not "amount".
func (c *choices) in(f string, starts initials) bool {
	return c.first&(starts|noLetter) != 0 && c.within(f, starts)
}

func (c *choices) within(f string, starts initials) bool {
	for _, a := range c.forms {
		if hasWordBegin(f, starts, a) {
			return true
		}
	}
	return false
}

// begin returns how many words of f one of them takes at its beginning, 0 for none. The
// word must end there: "list" does not begin "listen".
func (c *choices) begin(f string) int {
	if f == "" || c.first&initial(f[0]) == 0 {
		return 0
	}
	return c.longest(f)
}

func (c *choices) longest(f string) int {
	best := 0
	for _, a := range c.forms {
		if strings.HasPrefix(f, a) && (len(f) == len(a) || !letter(f[len(a)]) && !isDigit(f[len(a)]) && f[len(a)] != '\'') {
			best = max(best, 1+strings.Count(a, " "))
		}
	}
	return best
}

// initials is a set of the signs with which words begin, one bit for each of the plain
// letters and one for all the others.
type initials uint32

// noLetter stands for whatever is no plain letter.
const noLetter initials = 1 << 26

func initial(c byte) initials {
	if c >= 'a' && c <= 'z' {
		return 1 << (c - 'a')
	}
	return noLetter
}

// wordStarts marks the plain letters with which the words of f begin.
func wordStarts(f string) (starts initials) {
	for i := range len(f) {
		if c := f[i]; c >= 'a' && c <= 'z' && (i == 0 || !letter(f[i-1])) {
			starts |= initial(c)
		}
	}
	return starts
}

// countWords counts the words between blanks.
func countWords(f string) (n int) {
	for range strings.FieldsSeq(f) {
		n++
	}
	return n
}

// hasAny reports one of the alternatives in f, like choices that few messages come to.
func hasAny(f, alternatives string) bool {
	starts := wordStarts(f)
	for a := range strings.SplitSeq(alternatives, "|") {
		if hasWordBegin(f, starts, a) {
			return true
		}
	}
	return false
}

// hasWordBegin looks for one alternative.
func hasWordBegin(f string, starts initials, a string) bool {
	if (starts|noLetter)&initial(a[0]) == 0 {
		return false
	}
	whole := len(a) <= 3
	for from := 0; ; {
		i := strings.Index(f[from:], a)
		if i < 0 {
			return false
		}
		i += from
		end := i + len(a)
		if (i == 0 || !letter(f[i-1]) || !letter(a[0])) && (!whole || end == len(f) || !letter(f[end])) {
			return true
		}
		from = i + 1
	}
}

// letter counts every byte of a letter outside ASCII as one too.
func letter(c byte) bool { return c >= 'a' && c <= 'z' || c >= 0x80 }
