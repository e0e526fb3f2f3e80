package say

import "strings"

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
