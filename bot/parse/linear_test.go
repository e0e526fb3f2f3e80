package parse

import (
	"strings"
	"testing"
)

// BenchmarkLongest reads the longest text of several shapes: the work must grow
// with its length, not with its square.
func BenchmarkLongest(b *testing.B) {
	ctx := contexts()["two"]
	for name, unit := range map[string]string{"numbers": "1.032 ", "words": "foam and ", "unknown": "xyzzy ", "names": "gorse 1.031, damson 1.010 ", "times": "at 7 sunday ", "smells": "smells of eggs, ", "marks": "??", "asks": "is it 1.03 ", "fruit": "6 kg plums ", "blurs": "1.03 blurry ", "quotes": "\"a b c\" > ", "links": "a.b.c.d/"} {
		for _, n := range []int{1000, 2000, 4000, 8000} {
			text := strings.Repeat(unit, n/len(unit))
			b.Run(name+"/"+strings.Repeat("x", n/1000), func(b *testing.B) {
				for b.Loop() {
					Message(text, ctx)
				}
			})
		}
	}
}
