package say

import (
	"fmt"
	"strings"

	"mustbook/ferment"
)

// NoEarlier answers a batch to be begun like one that is not in the book.
func NoEarlier(name string) []string {
	return []string{"No earlier " + Title(name) + " in the book", "Begin it plain: new " + Title(name) + " 10 l"}
}

// BegunLike answers a batch begun from an earlier one's sheet, with what went into that one
// for the litres of this.
func (s Style) BegunLike(b, old *ferment.State, scale float64) []string {
	lines := s.Begun(b)[:1]
	lines = append(lines, fmt.Sprintf("like %s, without its readings", Clip(old.Name, 12)))
	var parts []string
	for _, a := range old.Additions {
		if !a.Has || a.At.After(old.Pitched) && !old.Pitched.IsZero() && a.Deed != ferment.DeedPitched {
			continue
		}
		parts = append(parts, strings.TrimSpace(s.number(a.Amount*scale, 2)+" "+unitWord(a.Unit)+" "+Clip(a.Material, 14)))
	}
	if len(parts) > 0 {
		wrapped := Wrap("Into it go: " + strings.Join(parts, ", "))
		lines = append(lines, wrapped[:min(len(wrapped), 2)]...)
	}
	return append(lines, "Read the gravity before the yeast")
}

// NothingClosed answers a batch to be reopened that is not closed.
func NothingClosed(closed []*ferment.State) []string {
	if len(closed) == 0 {
		return []string{"No batch is empty or bottled"}
	}
	var names []string
	for _, b := range closed {
		names = append(names, Title(b.Name))
	}
	return append([]string{"Which one? Empty or bottled are:"}, Wrap(strings.Join(names, ", "))...)
}

// Right confirms what was assumed.
const Right = "Right"

// PitchAssumed asks about the yeast that nobody has logged.
func (s Style) PitchAssumed(b *ferment.State) string {
	return "Yeast not logged: in " + s.Moment(b.Pitched) + "?"
}

// PlanNoted answers what is told of a time to come: it is kept as a note, and is neither a
// reading nor a deed.
func PlanNoted(b *ferment.State, text string) []string {
	return []string{Title(b.Name) + ": noted, for later", "“" + Clip(text, Width-2) + "”", "Not a reading. Type it when it is so"}
}
