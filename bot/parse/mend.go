package parse

import "strings"

// noughts turns the letter that lies beside the nought into it.
var noughts = strings.NewReplacer("o", "0", "O", "0")

// mend joins what a phone's keyboard tore apart: "1. 032", "1 032",
// "1.o32", "l.032". Only the shape of a gravity is mended, and only where
// nothing else can be meant. Phones put a blank behind a point, and
// letters for digits.
func mend(text string, toks []token) []token {
	out := toks[:0]
	for i := 0; i < len(toks); {
		if t := &toks[i]; t.kind == tCode && len(t.fold) == 4 && t.fold[0] == '1' && t.fold[1] == 'o' { // "1o43"
			if num, ok := parseNumber(noughts.Replace(t.fold)); ok {
				num.typed, t.kind, t.num = t.text, tNum, num
			}
		}
		n, typed := tornGravity(text, toks, i)
		if n == 0 {
			out = append(out, toks[i])
			i++
			continue
		}
		num, _ := parseNumber(typed)
		num.typed = text[toks[i].start:toks[i+n-1].end]
		t := toks[i]
		t.kind, t.end, t.num = tNum, toks[i+n-1].end, num
		t.text = num.typed
		t.fold = fold(t.text)
		out = append(out, t)
		i += n
	}
	return out
}

// tornGravity returns how many tokens make a torn gravity at i, and its
// digits. The third digit must be there and be the likely one (a nought
// after 1, a nine after 0), or "1. 500 g sugar" of a list would become a
// gravity.
func tornGravity(text string, toks []token, i int) (int, string) {
	head := toks[i].text
	if head == "l" || head == "I" {
		head = "1"
	}
	if head != "1" && head != "0" || i > 0 && (toks[i-1].kind == tNum || toks[i-1].text == "#" || toks[i-1].glued && toks[i].glued) {
		return 0, ""
	}
	j := i + 1
	if j < len(toks) && toks[j].kind == tNum && len(toks[j].text) == 4 && (toks[j].text[0] == '.' || toks[j].text[0] == ',') && toks[i].kind == tNum && toks[i].num.decimals < 0 {
		if tail := toks[j].text[1:]; head == "1" && tail[0] == '0' || head == "0" && tail[0] == '9' { // "1 ,031"
			return 2, head + "." + tail
		}
	}
	point := j < len(toks) && (toks[j].text == "." || toks[j].text == ",") && (toks[j].glued || toks[j].text == "." && j+1 < len(toks) && len(toks[j+1].text) == 3 && !toks[j+1].glued) // "1 . 050"
	if point {
		j++
	}
	if j >= len(toks) || !point && toks[i].kind != tNum || toks[i].kind == tWord && !toks[j].glued {
		return 0, ""
	}
	tail := toks[j].text
	if len(tail) == 3 && (tail[0] == 'o' || tail[0] == 'O') && toks[j].glued {
		tail = noughts.Replace(tail) // "1,oo2"
	} else if toks[j].kind != tNum || toks[j].glued && toks[i].kind == tNum {
		return 0, ""
	}
	if len(tail) != 3 || !isDigit(tail[1]) || !isDigit(tail[2]) || head == "1" && tail[0] != '0' || head == "0" && tail[0] != '9' {
		return 0, ""
	}
	if j+1 < len(toks) && toks[j+1].kind == tNum && len(toks[j+1].text) > 2 { // a phone number
		return 0, ""
	}
	return j - i + 1, head + "." + tail
}
