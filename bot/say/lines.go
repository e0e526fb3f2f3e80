package say

import (
	"strings"
	"unicode/utf8"
)

// Width is the most characters of a line, and Depth the most lines of an answer.
const (
	Width = 41
	Depth = 5
)

// Text joins lines into the text of a message; empty lines are left out.
func Text(lines []string) string {
	var out []string
	for _, l := range lines {
		if l = strings.TrimRight(l, " "); l != "" {
			out = append(out, l)
		}
	}
	return strings.Join(out, "\n")
}

// ForGroup keeps lines 1, 3 and 5: the verdict, how it goes, what to do.
func ForGroup(lines []string) []string {
	if len(lines) <= 2 {
		return lines
	}
	var out []string
	for i := 0; i < len(lines); i += 2 {
		out = append(out, lines[i])
	}
	return out
}

// Clip cuts what a user typed to a number of characters and drops what could
// break a line: control characters and marks that turn the writing direction.
func Clip(s string, n int) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t' || r == '\r':
			return ' '
		case r < 0x20 || r >= 0x7f && r < 0xa0 || r >= 0x200b && r <= 0x200f || r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069 || r == 0xfeff:
			return -1
		}
		return r
	}, s)
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > n {
		return string(r[:n-1]) + "…"
	}
	return s
}

// Wrap breaks a sentence into lines of at most Width characters; a longer word is
// broken wherever the line ends.
func Wrap(s string) []string {
	var out []string
	line := ""
	for _, w := range strings.Fields(s) {
		for r := []rune(w); len(r) > Width; r = []rune(w) {
			if line != "" {
				out = append(out, line)
				line = ""
			}
			out, w = append(out, string(r[:Width])), string(r[Width:])
		}
		if line != "" && len([]rune(line))+1+len([]rune(w)) > Width {
			out = append(out, line)
			line = ""
		}
		if line != "" {
			line += " "
		}
		line += w
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}

// shortest is what is left of a name, at the least, where a line is too long for it.
const shortest = 8

// Narrow breaks what is wider than a line. A batch's name gives way first, then the line goes
// on below. names lists the titles that may stand in it.
func Narrow(lines []string, names func() []string) []string {
	var out []string
	for _, l := range lines {
		if utf8.RuneCountInString(l) <= Width {
			out = append(out, l)
			continue
		}
		for _, n := range names() {
			room := utf8.RuneCountInString(n) - (utf8.RuneCountInString(l) - Width)
			if room >= shortest && strings.Contains(l, n) {
				short := []rune(strings.TrimSuffix(n, "…"))[:room-1]
				l = strings.Replace(l, n, strings.TrimRight(string(short), " ")+"…", 1)
				break
			}
		}
		// What stands in brackets goes on below as a whole: the doubt, when it was due, by whom.
		if i := strings.LastIndex(l, " ("); i > 0 && utf8.RuneCountInString(l) > Width && utf8.RuneCountInString(l[:i]) <= Width {
			out = append(out, l[:i], l[i+1:])
			continue
		}
		out = append(out, Wrap(l)...)
	}
	return out
}
