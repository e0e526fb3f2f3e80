package say

import (
	"fmt"
	"strings"

	"mustbook/ferment"
)

// The answers to WorkOrDone.
const (
	WorkItOut   = "Work it out"
	DoneAlready = "Done"
)

// What a blend brings along, each in one line.
const (
	BlendSweet      = "Sweet, not guarded: stabilise it again"
	BlendMalolactic = "Malolactic: is it done in all of it?"
)

// AskMerge says how to put batches together.
func (s Style) AskMerge() []string {
	return s.typable("Which batches go together?", "Type: merge elder and apple", "or: blended 10 l elder with 5 l apple")
}

// NoSuchBatch answers a name that no open batch has.
func NoSuchBatch(name string) []string {
	return []string{"“" + Clip(name, 20) + "” is no open batch", "Nothing changed. list shows them"}
}

// BottledAlready refuses to pour a bottled batch.
func BottledAlready(b *ferment.State) []string {
	return []string{Title(b.Name) + " is bottled: nothing changed", "If it is back in the jar, type:", "reopen " + Title(b.Name)}
}

// NotSoMuch refuses more litres than a batch has.
func (s Style) NotSoMuch(b *ferment.State, l float64) []string {
	return []string{fmt.Sprintf("%s: the book has %s, not %s", Title(b.Name), s.Volume(b.VolumeL), s.Volume(l)),
		"Nothing changed. If it is wrong, type:", fmt.Sprintf("%s volume %s", Title(b.Name), s.Volume(l))}
}

// Poured answers wines put together: the batch that holds them, what it is by the balance,
// what is left of the others, and what to beware of.
func (s Style) Poured(b *ferment.State, others []*ferment.State, beware string) []string {
	head := Title(b.Name) + ": put together"
	if b.VolumeL > 0 {
		head += ", " + s.Volume(b.VolumeL)
	}
	var rest []string
	for _, o := range others {
		if o.Stage == ferment.Empty {
			rest = append(rest, Clip(o.Name, 12)+" empty")
			continue
		}
		rest = append(rest, fmt.Sprintf("%s %s left", Clip(o.Name, 12), s.Volume(o.VolumeL)))
	}
	next := "Read it: so far all is worked out"
	if b.Stage != ferment.Must && beware == "" {
		next = "Read it; wait 2–4 weeks, haze may show"
	}
	return []string{head, s.blendFigures(b), Clip(strings.Join(rest, "; "), Width), beware, next}
}

// blendFigures tells gravity and alcohol of a blend as far as they are known.
func (s Style) blendFigures(b *ferment.State) string {
	var parts []string
	if b.Last != nil {
		parts = append(parts, s.SG(b.Last.SG)+" by balance")
	}
	switch {
	case b.ABVKnown:
		least := ""
		if b.ABVLeast {
			least = "at least "
		}
		parts = append(parts, fmt.Sprintf("%s%s %% vol (± %s)", least, s.ABV(b.ABV), s.Doubt(b.ABVDoubt)))
	case !b.Pitched.IsZero():
		parts = append(parts, "alcohol not known")
	}
	return strings.Join(parts, ", ")
}

// Topped answers a topping from another batch.
func (s Style) Topped(b, other *ferment.State, l float64, beware string) []string {
	lines := []string{fmt.Sprintf("%s: topped with %s %s", Title(b.Name), s.Volume(l), Clip(other.Name, 12))}
	now := "now " + s.Volume(b.VolumeL)
	if b.ABVKnown {
		now += fmt.Sprintf(", %s %% vol", s.ABV(b.ABV))
	}
	left := ""
	if other.VolumeL > 0 {
		left = fmt.Sprintf("%s has %s left", Title(other.Name), s.Volume(other.VolumeL))
	}
	return Answer(lines, now, left, beware)
}

// PouredBack answers the undo of a blend.
func PouredBack(name string, others []string) []string {
	return Wrap(fmt.Sprintf("%s: taken back. %s as before", Title(name), strings.Join(others, " and ")))
}

// WorkOrDone asks whether a blend is to be worked out or has been made.
func WorkOrDone() []string { return []string{"Work it out, or done?"} }

// cameIn renders wine of another batch in the history.
func cameIn(e ferment.Entry, amount string) string {
	if amount == "" {
		amount = "all"
	}
	what := fmt.Sprintf("%s of no %d in", amount, e.Other)
	if e.Material != "" {
		what = amount + " " + Clip(e.Material, 12) + " in"
	}
	return what
}

// litres renders a volume that may not be known.
func (s Style) litres(l float64) string {
	if l == 0 {
		return ""
	}
	return s.Volume(l)
}
