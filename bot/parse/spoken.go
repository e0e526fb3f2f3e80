package parse

import (
	"slices"
	"strconv"
)

// joinSpoken turns numbers in words into number tokens: "one oh four
// eight", "ten thirty-two", "point nine nine six", "nineteen". Most
// messages have no number words and are returned as they are.
func joinSpoken(toks []token, names [][]string) []token {
	has := false
	for i := range toks {
		if toks[i].kind == tWord && spokenWord(toks[i].fold) != "" {
			has = true
			break
		}
	}
	if !has {
		return toks
	}
	out := make([]token, 0, len(toks))
	for i := 0; i < len(toks); {
		if k := nameOfWords(toks, i, names); k > 0 { // "number nine"
			out = append(out, toks[i:i+k]...)
			i += k
			continue
		}
		t, n := spokenAt(toks, i)
		if n == 0 {
			out = append(out, toks[i])
			i++
			continue
		}
		out = append(out, t)
		i += n
	}
	return out
}

// spokenWord gives the digits of an English number word, "." for the
// point. Only English digits are joined so; the small numbers of other
// languages count before a unit (wordCount).
func spokenWord(w string) string { return spokenIn(w, false) }

// spokenIn gives the digits of a number word, also of the other languages where foreign
// is true.
func spokenIn(w string, foreign bool) string {
	f := lexicon().single(w)
	if f == nil {
		return ""
	}
	for _, s := range f.senses {
		if s.class != cNumber {
			continue
		}
		if s.name == "." || s.name == "1000" {
			return s.name
		}
		if (s.lang == "en" || foreign && len(s.name) < 3) && s.name[0] != '.' && s.name != "12d" {
			return s.name
		}
	}
	return ""
}

// spokenDigits gives the digits of token j of a number that begins at i. Around a spoken
// point other languages' words and typed digits count too: "eins komma null drei eins",
// "1 point 052".
func spokenDigits(toks []token, i, j int, point bool) string {
	t := &toks[j]
	oh := func(k int) bool { // "1 oh 58"
		return k > 0 && k+1 < len(toks) && toks[k].kind == tWord && spokenWord(toks[k].fold) == "0" && toks[k-1].kind == tNum && toks[k-1].text == "1" && toks[k+1].kind == tNum && toks[k+1].num.whole() && len(toks[k+1].num.digits) == 2
	}
	if t.kind == tNum && (j == i && oh(j+1) || j == i+2 && oh(j-1)) {
		return t.num.digits
	}
	beforePoint := j == i && j+1 < len(toks) && toks[j+1].kind == tWord && spokenWord(toks[j+1].fold) == "."
	switch {
	case t.kind == tWord:
		return spokenIn(t.fold, point || beforePoint)
	case t.kind == tNum && t.num.whole() && (point && len(t.num.digits) <= 3 || beforePoint && (t.text == "1" || t.text == "0")):
		return t.num.digits
	}
	return ""
}

// spokenAt reads the longest number in words at token i. A single small
// word stays a word where it may be a pronoun ("one"), unless it is a teen
// or more. Tens take the digit behind them ("forty eight" is 48), digits
// are strung together ("one oh four eight" is 1048). A word like "one"
// alone stays a word.
func spokenAt(toks []token, i int) (token, int) {
	if t, n := thousand(toks, i); n > 0 || spokenWord(toks[i].fold) == "1000" {
		return t, n
	}
	digits, words, n := "", 0, 0
	tens := false // the last word was a multiple of ten that a digit may complete
	for j := i; j < len(toks); j++ {
		if toks[j].kind == tPunct && toks[j].text == "-" && words > 0 && j+1 < len(toks) && spokenWord(toks[j+1].fold) != "" {
			continue
		}
		d := spokenDigits(toks, i, j, hasPoint(digits))
		if d == "" || d == "1000" || fullGravity(digits) && (len(d) == 2 || toks[j].kind == tNum) || d == "." && (hasPoint(digits) || j+1 >= len(toks) || spokenDigits(toks, i, j+1, words > 0) == "") {
			break
		}
		if tens && len(d) == 1 && d != "." && d != "0" {
			digits = digits[:len(digits)-1] + d
			tens = false
		} else {
			digits += d
			tens = len(d) == 2 && d[1] == '0' && d != "10"
		}
		words++
		n = j - i + 1
	}
	if words == 0 || words == 1 && (digits == "0" || digits == "1" || digits == ".") || len(digits) > 8 {
		return token{}, 0
	}
	if j := i + n; words == 1 && j < len(toks) && (toks[j].fold == "quarters" || toks[j].fold == "quarter") { // "three quarters"
		return token{}, 0
	}
	return spokenToken(toks, i, n, digits)
}

// thousand reads "one thousand and thirty one", "nine hundred ninety six" and
// "five hundred".
func thousand(toks []token, i int) (token, int) {
	d := spokenWord(toks[i].fold)
	if d == "1000" {
		return mille(toks, i)
	}
	j := i + 1
	if j >= len(toks) || toks[i].fold != "a" && len(d) != 1 {
		return token{}, 0
	}
	head := ""
	switch toks[j].fold {
	case "thousand":
		if d == "1" || toks[i].fold == "a" {
			head = "10"
		}
	case "hundred":
		head = d
		if toks[i].fold == "a" {
			head = "1"
		}
	}
	if head == "" || head == "0" || head == "." {
		return token{}, 0
	}
	j++
	round, tail := j, ""
	if j < len(toks) && toks[j].fold == "and" {
		j++
	}
	if j < len(toks) {
		tail = spokenWord(toks[j].fold)
	}
	j++
	if len(tail) == 2 && tail[1] == '0' && tail != "10" && j < len(toks) {
		if u := spokenWord(toks[j].fold); len(u) == 1 && u >= "1" && u <= "9" {
			tail = tail[:1] + u
			j++
		}
	}
	if len(tail) == 1 && tail != "." {
		tail = "0" + tail
	}
	if len(tail) != 2 { // "five hundred", "one thousand"
		return spokenToken(toks, i, round-i, head+"00")
	}
	return spokenToken(toks, i, j-i, head+tail)
}

// mille reads "mille quarante-trois" and "mil cuarenta y tres": behind the thousand of a language
// that counts by words, tens and what is added to them.
func mille(toks []token, i int) (token, int) {
	sum, n := 0, 0
	for j := i + 1; j < len(toks) && j < i+8; j++ {
		if sum > 0 && (toks[j].text == "-" || joins(toks[j].fold)) {
			continue
		}
		v, err := strconv.Atoi(spokenIn(toks[j].fold, true))
		if err != nil || toks[j].kind != tWord || !addsTo(sum, v) {
			break
		}
		if sum == 4 && v == 20 {
			v = 80 - sum
		}
		sum, n = sum+v, j-i+1
	}
	if n == 0 {
		return token{}, 0
	}
	return spokenToken(toks, i, n, strconv.Itoa(1000+sum))
}

// addsTo reports that a number word may follow those that have come to the sum: a digit behind
// the tens, and in French what is said beyond sixty and eighty ("soixante-treize"), "dix-huit"
// and four twenties.
func addsTo(sum, v int) bool {
	switch {
	case v <= 0 || v > 90:
		return false
	case v < 10 && sum != 10:
		return sum%10 == 0
	case v < 10:
		return v > 6
	case v < 20:
		return sum == 0 || sum == 60 || sum == 80
	}
	return sum == 0 || sum == 4 && v == 20
}

// joins reports a word for "and".
func joins(w string) bool {
	f := lexicon().single(w)
	return f != nil && slices.ContainsFunc(f.senses, func(s sense) bool { return s.class == cJoin && s.name == "and" })
}

// spokenToken makes one number of n tokens.
func spokenToken(toks []token, i, n int, digits string) (token, int) {
	num, ok := parseNumber(digits)
	if !ok {
		return token{}, 0
	}
	t := token{kind: tNum, start: toks[i].start, end: toks[i+n-1].end, glued: toks[i].glued}
	num.spoken = true
	t.num = num
	t.text, t.fold = num.typed, num.typed
	return t, n
}

// fullGravity reports digits that are a gravity already: what follows is
// another number. "one oh three one nineteen" is 1.031 at 19.
func fullGravity(s string) bool {
	return len(s) == 4 && s[0] == '1' && (s[1] == '0' || s[1] == '1') && s[1] != '.' || len(s) == 3 && s[0] == '9' || len(s) == 5 && s[1] == '.'
}

// hasPoint reports a point among the digits so far.
func hasPoint(s string) bool {
	for i := range len(s) {
		if s[i] == '.' {
			return true
		}
	}
	return false
}

// wordCount is the number that a word like "half a", "two" or "a" stands
// for before a unit; ok is false for other words. A dozen is twelve; the
// article counts as one.
func (it *item) wordCount() (float64, bool) {
	if n := it.name(cNumber); n != "" && n != "." {
		if n == "12d" {
			return 12, true
		}
		f, err := strconv.ParseFloat(n, 64)
		return f, err == nil && f > 0
	}
	return 1, it.is(cArt)
}

// oneMore reports "its second spoon of nutrient": one spoon, whichever it is.
func (r *reader) oneMore(i int) bool {
	if !r.items[i].is(cOrdinal) || i+3 >= len(r.items) || !r.items[i+3].is(cMaterial) || r.items[i+2].fold != "of" {
		return false
	}
	switch r.items[i+1].name(cUnit) {
	case "tsp", "tbsp", "tablet":
		return true
	}
	return r.items[i+1].is(cNoun)
}

// dictated mends what a phone that is spoken to writes apart: "one comma zero four seven",
// where the comma is the decimal one, and "free SO two".
func dictated(toks []token) []token {
	for i := 1; i+1 < len(toks); i++ {
		t, next := &toks[i], &toks[i+1]
		switch {
		case t.fold == "comma" && i+2 < len(toks) && unitDigit(&toks[i-1]) && spokenWord(next.fold) != "" && spokenWord(toks[i+2].fold) != "":
			t.text, t.fold = "point", "point"
		case (t.fold == "so" || t.fold == "s" && next.fold == "o2") && (toks[i-1].fold == "free" || toks[i-1].fold == "total"):
			if t.fold == "so" && next.fold != "two" && next.text != "2" {
				continue
			}
			t.kind, t.end, t.text, t.fold = tCode, next.end, "so2", "so2"
			toks = append(toks[:i+1], toks[i+2:]...)
		case len(t.fold) == 1 && t.kind == tWord && (next.kind == tNum || next.text == "="):
			if part := sulphurLetter(toks, i); part != "" {
				t.fold = part
			}
		}
	}
	return toks
}

// unitDigit reports the digit before the point of a gravity.
func unitDigit(t *token) bool {
	d := spokenWord(t.fold)
	return d == "1" || d == "0" || t.text == "1" || t.text == "0"
}
