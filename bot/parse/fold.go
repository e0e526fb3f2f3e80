package parse

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// folds maps a letter with a mark to the plain letters that a phone
// without the mark would type. Only the letters of the languages of the
// lexicon are here.
var folds = map[rune]string{
	'à': "a", 'á': "a", 'â': "a", 'ã': "a", 'ä': "a", 'å': "a", 'ą': "a", 'æ': "ae",
	'ç': "c", 'ć': "c", 'č': "c", 'ď': "d", 'đ': "d",
	'è': "e", 'é': "e", 'ê': "e", 'ë': "e", 'ě': "e", 'ę': "e",
	'ì': "i", 'í': "i", 'î': "i", 'ï': "i", 'ı': "i", 'ł': "l", 'ľ': "l",
	'ñ': "n", 'ń': "n", 'ň': "n", 'ò': "o", 'ó': "o", 'ô': "o", 'õ': "o", 'ö': "o",
	'ø': "o", 'ő': "o", 'œ': "oe", 'ř': "r", 'ß': "ss", 'ś': "s", 'š': "s", 'ť': "t",
	'ù': "u", 'ú': "u", 'û': "u", 'ü': "u", 'ů': "u", 'ű': "u", 'ý': "y", 'ÿ': "y",
	'º': "°", 'ź': "z", 'ż': "z", 'ž': "z", '’': "'", '‘': "'", '´': "'", '`': "'",
}

// fold lowers a word and takes the marks off its letters, so that
// "Gęstość" and "gestosc" are the same word. Plain lower-case ASCII, most
// words, is returned as it is without a copy. Combining marks are dropped,
// as some phones send the letter and its mark apart.
func fold(s string) string {
	plain := 0
	for plain < len(s) && !marked(s[plain]) {
		plain++
	}
	if plain == len(s) {
		return s
	}
	var b strings.Builder
	b.Grow(len(s))
	b.WriteString(s[:plain])
	for _, r := range s[plain:] {
		switch {
		case r >= utf8.RuneSelf:
			r = unicode.ToLower(r)
		case r >= 'A' && r <= 'Z':
			b.WriteByte(byte(r) - 'A' + 'a')
			continue
		case r != '`': // most letters, even of a text that has marks
			b.WriteByte(byte(r))
			continue
		}
		switch f, ok := folds[r]; {
		case ok:
			b.WriteString(f)
		case unicode.Is(unicode.Mn, r): // a mark typed apart from its letter
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// marked reports a byte that fold may change.
func marked(c byte) bool { return c >= utf8.RuneSelf || c >= 'A' && c <= 'Z' || c == '`' }
