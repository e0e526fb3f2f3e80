package say

import (
	"fmt"
	"strings"

	"mustbook/ferment"
)

// NothingLikeIt answers a description that fits nothing in the book.
func NothingLikeIt() []string {
	return []string{"Nothing in the book fits that", "history shows what there is"}
}

// WhichOfThem asks which of several things is meant.
func WhichOfThem(n int) []string {
	if n > 4 {
		return []string{fmt.Sprintf("%d fit; the newest four. Which?", n)}
	}
	return []string{fmt.Sprintf("%d fit. Which?", n)}
}

// Described names an entry so that it can be told from others like it: batch, what, when.
func (s Style) Described(batch string, es []ferment.Entry) string {
	e := es[0]
	what := s.entry(e)
	if saysMore(e.Deed) && what != e.Deed {
		what = e.Deed
	}
	when := s.Moment(e.At)
	if e.DayOnly {
		when = s.Day(e.At)
	}
	return strings.TrimSpace(fmt.Sprintf("%s %s, %s", Clip(batch, 10), Clip(what, 14), when))
}
