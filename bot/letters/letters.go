// Package letters knows which letters the fonts have that pictures and papers are
// set in, and makes any name one that they can show.
package letters

import (
	"fmt"
	"strings"
	"unicode"
)

// Missing stands for letters that the fonts have not.
const Missing = '□'

// Printable is a name as the fonts can show it, on one line of at most n letters.
// A run of letters of another script becomes one marker; marks that would turn or
// hide what follows (direction, zero width, controls) are dropped.
func Printable(s string, n int) string {
	var out []rune
	for _, r := range s {
		switch {
		case unicode.IsSpace(r):
			if k := len(out); k > 0 && out[k-1] != ' ' {
				out = append(out, ' ')
			}
		case r == unicode.ReplacementChar || !Has(r) && (unicode.IsPrint(r) || r > unicode.MaxLatin1 && !unicode.In(r, unicode.Cf, unicode.Mn)):
			if k := len(out); k == 0 || out[k-1] != Missing {
				out = append(out, Missing)
			}
		case Has(r):
			out = append(out, r)
		}
	}
	out = []rune(strings.TrimSpace(string(out)))
	if len(out) > n {
		out = append(out[:n-1], '…')
	}
	return string(out)
}

// Name is a batch's name as the fonts can show it, in at most n letters: its number
// where they have none of its letters, since a marker alone tells nothing.
func Name(name string, batch, n int) string {
	if t := Printable(name, n); strings.Trim(t, string(Missing)+" …") != "" {
		return t
	}
	return fmt.Sprintf("Batch %d", batch)
}

// Has reports whether the fonts have a letter: Latin, Greek, Cyrillic, and the
// signs that names have in these scripts.
func Has(r rune) bool {
	switch {
	case r >= ' ' && r <= '~', r >= 0xA1 && r <= 0x17F && r != 0xAD:
		return true
	case r >= 0x386 && r <= 0x3CE:
		return r != 0x387 && r != 0x38B && r != 0x38D && r != 0x3A2
	case r >= 0x400 && r <= 0x45F, r >= 0x490 && r <= 0x491, r >= 0x218 && r <= 0x21B:
		return true
	case r >= 0x1E80 && r <= 0x1E85, r == 0x1E9E, r == 0x1EF2, r == 0x1EF3:
		return true
	}
	return strings.ContainsRune("–—‘’‚“”„†•…‰′″€™½⅓¼¾", r)
}
