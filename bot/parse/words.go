package parse

import "strings"

// hasAny reports one of the alternatives at the beginning of a word of f.
// Alternatives of up to three letters must be whole words: "he" is not
// "here", "am" not "amount".
func hasAny(f, alternatives string) bool { return hasAnyOf(f, wordStarts(f), alternatives) }

// wordStarts marks the letters with which the words of f begin: most
// alternatives are ruled out by their first.
func wordStarts(f string) (starts uint32) {
	for i := range len(f) {
		if c := f[i]; c >= 'a' && c <= 'z' && (i == 0 || !letter(f[i-1])) {
			starts |= 1 << (c - 'a')
		}
	}
	return starts
}

// hasAnyOf is hasAny for a text of which the first letters are known.
func hasAnyOf(f string, starts uint32, alternatives string) bool {
	for len(alternatives) > 0 {
		a := alternatives
		if i := strings.IndexByte(alternatives, '|'); i >= 0 {
			a, alternatives = alternatives[:i], alternatives[i+1:]
		} else {
			alternatives = ""
		}
		if hasWordBegin(f, starts, a) {
			return true
		}
	}
	return false
}

// hasWordBegin looks for one alternative.
func hasWordBegin(f string, starts uint32, a string) bool {
	if c := a[0]; c >= 'a' && c <= 'z' && starts&(1<<(c-'a')) == 0 {
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
