package say

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"mustbook/ferment"
	"mustbook/ferment/dose"
	"mustbook/ferment/liquid"
)

// Further labels.
const (
	TypeGravity = "Type gravity"
	WellStirred = "It is well stirred"
	DryEnough   = "Dry enough"
	MeantSweet  = "Meant sweet"
	Steps       = "Steps"
)

// Short is one line for one of several readings.
func (s Style) Short(b *ferment.State, r ferment.Reading) string {
	l := fmt.Sprintf("%s %s: %s", Title(b.Name), s.Day(r.At), s.SG(r.SG))
	if r.TempC != nil {
		l += " at " + s.Temp(*r.TempC)
	}
	if b.Last == nil || b.Last.Entry.Root != r.Entry.Root {
		return l
	}
	if b.ABVKnown {
		l += ", " + s.ABV(b.ABV) + " %"
	}
	if v := s.verdict(b, Outlook{}); v != "" {
		l += ", " + v
	}
	if utf8.RuneCountInString(l) > Width && r.TempC != nil {
		l = strings.Replace(l, " at "+s.Temp(*r.TempC), "", 1)
	}
	return l
}

// Count heads an answer to a pasted page.
func Count(n int) string { return fmt.Sprintf("%d readings put in", n) }

// NotSafe says that a batch must not be bottled, with what is in it and what that
// would do in a closed bottle.
func (s Style) NotSafe(b *ferment.State, why []ferment.Refusal) []string {
	lines := []string{Title(b.Name) + ": NOT safe to bottle"}
	switch {
	case b.Last == nil:
		lines = append(lines, "No gravity in the book")
	case b.Last.Worked:
		lines = append(lines, fmt.Sprintf("Blended %s, about %s, not read yet", s.On(b.Last.At), s.SG(b.Last.SG)))
	default:
		lines = append(lines, fmt.Sprintf("Last read %s %s%s", s.SG(b.Last.SG), s.On(b.Last.At), refusalWord(why)))
	}
	sugar := b.SugarLeft
	if b.SugarKnown && sugar > 2 {
		c := liquid.DissolvedAfterFerment
		if !b.Degassed.IsZero() {
			c = liquid.DissolvedDegassed
		}
		all := liquid.GramsPerLitre(sugar + b.SugarDoubt)
		cool, err1 := liquid.BottlePressure(all, c, 12)
		hot, err2 := liquid.BottlePressure(all, c, dose.SummerHeat)
		if err1 == nil && err2 == nil {
			lines = append(lines, fmt.Sprintf("About %s sugar left: if shut in,", s.PerLitre(sugar)),
				fmt.Sprintf("%s atm hot, %s cool. Glass bursts", s.Number(hot, 0), s.Number(cool, 0)))
		}
	}
	if len(why) > 0 && (why[0] == ferment.MLFRunning || why[0] == ferment.MLFUnknown) {
		return append(lines, "Malolactic in a bottle makes gas. Is it", "done, or unwanted? Then: malolactic no")
	}
	if len(why) > 0 && why[0] == ferment.TooFizzy {
		return append(lines, "No glass holds it, fizzy or not")
	}
	if len(why) > 0 && why[0] == ferment.ReadAfterSugar {
		return append(lines, "Airlock on, read 10 days after the sugar")
	}
	if len(why) > 0 && why[0] == ferment.Unanswered {
		return append(lines, "Type dry enough, or meant sweet")
	}
	if !b.Bottled.IsZero() {
		return append(lines, "Keep them cool, do not carry. Type: fizz")
	}
	return append(lines, airlockOn+", read it now")
}

const airlockOn = "Leave the airlock on"

func refusalWord(why []ferment.Refusal) string {
	if len(why) == 0 {
		return ""
	}
	switch why[0] {
	case ferment.NotStopped:
		return ", not done"
	case ferment.SweetLoose, ferment.Unanswered:
		return ", sweet"
	case ferment.ReadAfterSugar:
		return ", sweetened since"
	}
	return ""
}

// YearLimit answers a volume to watch in a year, and what was made of it so far. The law
// named is that of one place (27 CFR 24.75), never advice.
func (s Style) YearLimit(limit, made float64) []string {
	return []string{"Year limit to watch: " + s.Volume(limit), "Made this year so far: " + s.volumeOrNone(made),
		"US law: 100 gal for one adult, 200 for", "two or more (27 CFR 24.75). Elsewhere", "and by state it differs. Not for sale"}
}
