package parse

import (
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"
)

type tokenKind uint8

const (
	tWord  tokenKind = iota // letters
	tNum                    // a number
	tCode                   // letters and digits mixed, or digits that are no number: "L1032B", "0412-77"
	tPunct                  // one sign
	tLine                   // end of a line
)

// token is one run of the text with its place, in bytes.
type token struct {
	kind       tokenKind
	start, end int
	text       string
	fold       string
	num        number
	glued      bool // no space before it
}

// scan cuts the text into tokens. Units glued to numbers ("19c") and
// labels glued to numbers ("sg1.032") come apart; other mixtures of
// letters and digits stay one code, so that a serial is never taken for a
// number. Signs that only change how others look (joiners, variation
// selectors of emoji) are dropped with the blanks.
func scan(text string) []token { return scanInto(make([]token, 0, len(text)/4+4), text) }

// tokenLists are lists of tokens for the next message: of what a message takes from the
// memory they are a quarter, and nothing keeps them.
var tokenLists = sync.Pool{New: func() any { return new([]token) }}

// giveBack keeps a list for the next message, without the text.
func giveBack(list *[]token, toks []token) {
	clear(toks)
	*list = toks[:0]
	tokenLists.Put(list)
}

// scanInto is scan with the list to append to.
func scanInto(toks []token, text string) []token {
	prevEnd := -1
	for i := 0; i < len(text); {
		r, w := utf8.DecodeRuneInString(text[i:])
		if r == '\n' {
			toks = append(toks, token{kind: tLine, start: i, end: i + 1, text: "\n", fold: "\n"})
			i++
			continue
		}
		if unicode.IsSpace(r) || r == 0x200d || r >= 0xfe00 && r <= 0xfe0f {
			i += w
			continue
		}
		var t token
		switch {
		case startsNumber(text, i, prevEnd) && !(r == ',' && strayComma(text[i+1:], toks)):
			t = scanNumber(text, i)
			if n := oddPoint(text, i); n > 0 {
				t = token{kind: tNum, start: i, end: i + n}
				t.num, _ = parseNumber(text[i:i+1] + "." + text[i+n-3:i+n])
				t.num.typed = text[i : i+n]
			}
		case unicode.IsLetter(r) && r != 'º': // Spanish keyboards have it for the degree
			if t = scanWord(text, i); t.end < len(text) && (text[t.end] == ':' || text[t.end] == '.') {
				t = scanLink(text, t)
			}
		case vulgar[r] != 0:
			t = token{kind: tNum, start: i, end: i + w, num: number{typed: text[i : i+w], val: vulgar[r], decimals: -1, fraction: true}}
		default:
			t = token{kind: tPunct, start: i, end: i + w}
		}
		t.text = text[t.start:t.end]
		t.fold = fold(t.text)
		if t.fold == "be" && degreeBaume(text, t.end, toks, t.text) {
			t.fold = "baume"
		}
		t.glued = prevEnd == t.start
		prevEnd = t.end
		toks = append(toks, t)
		i = t.end
	}
	return toks
}

// strayComma reports a comma between a gravity and its temperature that stands on the wrong side
// of the blank: "1,046 ,19". Three digits behind it may be a gravity's own.
func strayComma(rest string, toks []token) bool {
	return len(toks) > 0 && toks[len(toks)-1].kind == tNum && toks[len(toks)-1].num.decimals >= 3 && !threeDigits(rest)
}

// degreeBaume tells Baumé's sign from the verb: "5,1 Bé" by its mark, "12.4 Be" by its capital
// behind a number with one decimal, where nothing of the clause follows but another number.
func degreeBaume(text string, end int, toks []token, w string) bool {
	if len(toks) == 0 || toks[len(toks)-1].kind != tNum {
		return false
	}
	if len(w) > len("be") {
		return true
	}
	if w != "Be" || toks[len(toks)-1].num.decimals != 1 {
		return false
	}
	rest := strings.TrimLeft(text[end:], " ")
	return rest == "" || isDigit(rest[0]) || strings.ContainsRune(",.;/\n)", rune(rest[0]))
}

// isDigit reports an ASCII digit; others are letters to this grammar.
func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// startsNumber also takes ".998" and "-2", but only where nothing stands
// before. Behind a word a point is a full stop and a dash joins: "l.5",
// "part-2".
func startsNumber(text string, i, prevEnd int) bool {
	c := text[i]
	if isDigit(c) {
		return true
	}
	if (c == '.' || c == ',' || c == '-') && i+1 < len(text) && isDigit(text[i+1]) {
		return prevEnd != i
	}
	return false
}

// scanNumber reads digits with one point or comma. More signs inside make
// a code (a serial, a date, a score), unless they part a gravity from its
// temperature.
func scanNumber(text string, i int) token {
	j := i
	points, dashes := 0, 0
	if text[j] == '-' {
		j++
	}
	for j < len(text) {
		c := text[j]
		if isDigit(c) {
			j++
			continue
		}
		if (c == '.' || c == ',') && j+1 < len(text) && isDigit(text[j+1]) {
			points++
			j++
			continue
		}
		if c == '-' && j > i && j+1 < len(text) && isDigit(text[j+1]) {
			dashes++
			j++
			continue
		}
		break
	}
	if d := strings.IndexByte(text[i:j], '-'); d > 0 && dashes == 1 && points == 0 && j+1 < len(text) && text[j] == '/' && isDigit(text[j+1]) { // "1-1/2"
		j, dashes = i+d, 0
	}
	t := token{kind: tNum, start: i, end: j}
	n, ok := parseNumber(text[i:j])
	t.num = n
	if !ok || dashes > 0 || points > 1 {
		if k := pairCut(text[i:j], text[j:]); k > 0 { // "1.032,19" and "1.032-19": two numbers
			t.end = i + k
			t.num, _ = parseNumber(text[i:t.end])
			return t
		}
		t.kind = tCode
		return t
	}
	// Letters behind the digits are a unit, unless digits follow them again.
	k := j
	for k < len(text) {
		r, w := utf8.DecodeRuneInString(text[k:])
		if !unicode.IsLetter(r) {
			break
		}
		k += w
	}
	if w := fold(text[j:k]); k > j && k < len(text) && isDigit(text[k]) && w != "h" && !isGluedLabel(w) {
		t.end = codeEnd(text, i)
		t.kind = tCode
	}
	return t
}

// oddPoint is the length of a gravity whose point is another sign or typed twice: "1·041",
// "1..044", "1;031", "1'031"; 0 for anything else. The first of its decimals must be the
// likely one, as with torn gravities.
func oddPoint(text string, i int) int {
	j := i + 1
	if i > 0 && (isDigit(text[i-1]) || text[i-1] == '.' || text[i-1] == ',') || text[i] != '1' && text[i] != '0' {
		return 0
	}
	for j < len(text) && j < i+4 {
		r, w := utf8.DecodeRuneInString(text[j:])
		if !strings.ContainsRune(".,·∙‧•;:'’", r) {
			break
		}
		j += w
	}
	if j == i+1 || j == i+2 && (text[i+1] == '.' || text[i+1] == ',') || j+3 > len(text) {
		return 0
	}
	for k := j; k < j+3; k++ {
		if !isDigit(text[k]) {
			return 0
		}
	}
	likely := text[i] == '1' && text[j] == '0' || text[i] == '0' && text[j] == '9'
	if !likely || j+3 < len(text) && (isDigit(text[j+3]) || (text[j+3] == '.' || text[j+3] == ':') && j+4 < len(text) && isDigit(text[j+4])) {
		return 0
	}
	return j + 3 - i
}

// pairCut finds where a gravity ends and a second number follows without a
// space; 0 if the run is something else. Behind a thousands' point two
// digits are cents: 1.031,50.
func pairCut(s, after string) int {
	if len(s) > 7 && isDigit(s[5]) && s[6] == ',' && (s[1] == '.' || s[1] == ',') { // "1.0620,19.5"
		n, ok := parseNumber(s[:6])
		rest, ok2 := parseNumber(s[7:])
		if ok && ok2 && gravityShaped(n) && rest.val <= 120 {
			return 6
		}
		return 0
	}
	if len(s) < 7 || s[1] != '.' && s[1] != ',' || s[5] != ',' && s[5] != '-' && s[5] != '.' {
		return 0
	}
	n, ok := parseNumber(s[:5])
	rest, ok2 := parseNumber(s[6:])
	if !ok || !ok2 || !gravityShaped(n) || s[5] == '.' && rest.decimals < 3 && !(rest.whole() && rest.val >= 4 && rest.val <= 40) || rest.val > 120 || s[5] != s[1] && s[5] == ',' && rest.val > 45 && !unitBehind(after) { // 1.031,50 is a price
		return 0
	}
	return 5
}

// unitBehind reports that a scale or another part of a list follows a number at once:
// "1.019,77,plum", "1.019,77f".
func unitBehind(after string) bool {
	return after != "" && (strings.ContainsRune(",;fF°", rune(after[0])) || strings.HasPrefix(after, "°") || strings.HasPrefix(after, "º"))
}

// codeEnd is where a run of letters, digits and inner signs ends. A point
// or dash at the end belongs to the sentence.
func codeEnd(text string, i int) int {
	for i < len(text) {
		r, w := utf8.DecodeRuneInString(text[i:])
		if r == ',' && i > 0 && isDigit(text[i-1]) && (threeDigits(text[i+1:]) || i+2 < len(text) && isDigit(text[i+1]) && isLetterAt(text, i+2)) { // "braam1,037", "braam5,1Bé"
			i++
			continue
		}
		inner := (r == '-' || r == '.' || r == '_') && i+1 < len(text) && (isDigit(text[i+1]) || unicode.IsLetter(rune(text[i+1])))
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) && !inner {
			break
		}
		i += w
	}
	return i
}

// threeDigits reports that a text begins with three digits and no fourth.
func threeDigits(s string) bool {
	return len(s) >= 3 && isDigit(s[0]) && isDigit(s[1]) && isDigit(s[2]) && (len(s) == 3 || !isDigit(s[3]))
}

// scanWord reads letters with inner apostrophes, and the SO2 that ends in
// a digit.
func scanWord(text string, i int) token {
	j := i
	for j < len(text) {
		r, w := utf8.DecodeRuneInString(text[j:])
		inner := (r == '\'' || r == '’') && j+w < len(text) && isLetterAt(text, j+w)
		if !unicode.IsLetter(r) && !unicode.Is(unicode.Mn, r) && !inner {
			break
		}
		j += w
	}
	w := fold(text[i:j])
	if j < len(text) && text[j] == '2' && (w == "so" || w == "fso" || w == "tso" || w == "co" || w == "freeso" || w == "totalso") {
		j++ // the 2 of SO2 belongs to the word
	}
	t := token{kind: tWord, start: i, end: j}
	if j < len(text) && isDigit(text[j]) {
		if !isGluedLabel(w) {
			t.kind, t.end = tCode, codeEnd(text, i)
		}
	}
	return t
}

// longestDomain bounds the search for the end of a domain: the work stays linear. No
// word behind its last point is longer than longestZone ("org", "shop") as a rule.
const (
	longestDomain = 64
	longestZone   = 4
)

// scanLink makes one code of a link that begins with word w: "https://…", "www.…",
// "site.org/…". The figures in it are nobody's readings.
func scanLink(text string, w token) token {
	rest := text[w.end:min(len(text), w.end+longestDomain)]
	link := strings.HasPrefix(rest, "://") || text[w.start:w.end] == "www"
	for k, point := 0, 0; !link && k < len(rest); k++ {
		c := rest[k]
		if c == '.' {
			point = k
		} else if c == '/' {
			link = k+1 < len(rest) && k-point > 2 && k-point-1 <= longestZone && rest[k+1] > ' '
			break
		}
		if k == 0 && c != '.' || !letter(c) && c != '.' && c != '-' {
			break
		}
	}
	if !link {
		return w
	}
	for w.kind = tCode; w.end < len(text) && text[w.end] > ' '; w.end++ {
	}
	return w
}

// isLetterAt reports a letter at byte i.
func isLetterAt(text string, i int) bool {
	r, _ := utf8.DecodeRuneInString(text[i:])
	return unicode.IsLetter(r)
}

// isGluedLabel says which labels people type without a space: "sg1.032",
// "t19". Other letters before digits are a code: "L1032B".
func isGluedLabel(w string) bool {
	switch w {
	case "sg", "og", "fg", "ph", "ta", "t", "temp", "d", "brix", "bx", "blg", "oe", "kmw", "babo":
		return true
	}
	return false
}
