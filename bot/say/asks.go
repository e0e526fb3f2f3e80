package say

import (
	"fmt"
	"strings"

	"mustbook/ferment"
	"mustbook/ferment/liquid"
)

// Asked puts a question of the bot in words: what was understood, and the one
// thing that is missing.
func Asked(s Style, ask string, args map[string]any, b *ferment.State, text, why string) []string {
	name := "this"
	if b != nil {
		name = Title(b.Name)
	}
	typed := func(rest string) string { return quoted(text, rest) }
	last := ""
	if b != nil && b.Last != nil {
		last = fmt.Sprintf("last %s %s", s.SG(b.Last.SG), s.Day(b.Last.At))
	}
	switch ask {
	case "which_batch":
		return []string{typed(": for which batch?")}
	case "magnitude":
		return []string{typed(": did you mean one of these?"), "Type it as 1.048"}
	case "digits":
		return []string{typed(": one digit is missing"), "Three behind the point, please: 1.048"}
	case "plausible":
		return []string{typed(" would be unusual"), "Keep it, or type it again"}
	case "rise":
		return []string{fmt.Sprintf("%s went up? %s", name, last), "Sugar added, gas on the stem, or another", "batch? Nothing is stored yet"}
	case "fall":
		return []string{fmt.Sprintf("%s fell that far? %s", name, last), "Read once more, or keep it"}
	case "temp_unit":
		return []string{typed(": °C or °F?")}
	case "gallon":
		return []string{"US gallon (3.79 L) or imperial (4.55 L)?", "I ask once and remember"}
	case "amount":
		return []string{name + ": how much was it?", "Noted without amount until you say"}
	case "material":
		return []string{fmt.Sprintf("Packet %v: what does the sheet call it?", args["packet"])}
	case "unit":
		return []string{typed(": in which unit?")}
	case "date":
		return []string{typed(": on which day?")}
	case "duplicate":
		return []string{name + ": in the book already", "A second time, or the same one?"}
	case "is_it_a_reading":
		return []string{typed(": a gravity?")}
	case "correct_what":
		return []string{"Nothing of the last 48 h to change", "Say which: undo the racking on 3 May"}
	case "undo_whose", "correct_whose":
		return []string{"The newest entry is somebody else's", "Change it all the same?"}
	case "confirm":
		return confirm(args)
	}
	return append([]string{typed(": I need one thing more")}, Wrap(why)...)
}

// quoted is what was typed, as much of it as fits before the rest of the line.
func quoted(text, rest string) string {
	return "“" + Clip(text, min(30, Width-2-len([]rune(rest)))) + "”" + rest
}

func confirm(args map[string]any) []string {
	lines := []string{fmt.Sprintf("%v entries. Put them all in?", args["count"])}
	if f, ok := args["first"].(string); ok {
		lines = append(lines, "first: "+Clip(f, 32))
	}
	if l, ok := args["last"].(string); ok && l != args["first"] {
		lines = append(lines, "last: "+Clip(l, 33))
	}
	return lines
}

// Rejected says what was understood and what to type.
func (s Style) Rejected(reason, why, text string) []string {
	switch reason {
	case "too_long":
		return []string{"Too long for one message.", "Send it in parts; nothing is stored"}
	}
	lines := []string{quoted(text, " can't be: not stored")}
	if why != "" {
		lines = append(lines, Wrap(strings.ToUpper(why[:1])+why[1:])...)
	}
	if len(lines) > 3 {
		lines = lines[:3]
	}
	return append(lines, s.TypeReading()...)
}

// Help is one line that fits the stage: what one types now.
func (s Style) Help(stage ferment.Stage) []string {
	return s.typable(help(stage)...)
}

func help(stage ferment.Stage) []string {
	switch stage {
	case "":
		return []string{"Begin with: new damson 23 l"}
	case ferment.Must:
		return []string{"Try: sg 1.086 at 24c · pitched · undo"}
	case ferment.Lag, ferment.Primary:
		return []string{"Try: sg 1.048 at 21c · working · racked"}
	case ferment.Secondary:
		return []string{"Try: sg 1.004 · racked 21 l · status"}
	case ferment.Bottled:
		return []string{"Try: opened one · 26 left · tasted: …"}
	}
	return []string{"Try: sg 0.995 · sulphite 2 g · what next"}
}

// HelpWhole tells the things one types at a stage.
func (s Style) HelpWhole(stage ferment.Stage) []string {
	return append(s.Help(stage), "Ask: status · what next · list · history", "Repair: undo · no, 1.026 · sorry, gorse", "Set: hydrometer 60f · units us")
}

// Short answers that stand alone.
func NothingToUndo() []string   { return []string{"Nothing of the last 48 h to take back"} }
func NothingToRepair() []string { return []string{"Nothing of the last 48 h to change"} }
func NothingToRedo() []string   { return []string{"Nothing taken back that could return"} }
func AlreadyBack() []string     { return []string{"That was taken back already"} }
func AlreadyThere() []string    { return []string{"That stands in the book already"} }
func DoneBefore() []string      { return []string{"That is done already"} }
func Gone() []string            { return []string{"That entry is no longer there"} }
func BookStays() []string       { return []string{"The book stays as it is"} }
func Dropped() []string         { return []string{"Left out; nothing stored"} }
func WhichBatch() []string      { return []string{"Which batch? Name it, or type list"} }

// TypeReading says how a reading is typed.
func (s Style) TypeReading() []string { return s.typable("Type it like: sg 1.048 at 21c") }

// NoBatches says how to begin.
func (s Style) NoBatches() []string { return s.typable("No batch yet.", "Begin with: new damson 23 l") }

// NothingBegun answers what has no batch to go to.
func (s Style) NothingBegun() []string {
	return append([]string{"No batch yet: nothing is stored"}, s.NoBatches()[1:]...)
}

func CannotListen() []string {
	return []string{"I can't listen to voice notes.", "Type it like: sg 1.048 at 21c"}
}

// PhotoKept answers a picture without a code.
func PhotoKept() []string {
	return []string{"Photo kept; no code could be read.", "A stem? Type the number: eye level,", "bottom of the curve."}
}

// PhotoBroken answers a file that is no picture.
func PhotoBroken() []string {
	return []string{"I could not open that picture.", "Send it again, as a photo"}
}

// NotDrawn answers where a picture or paper could not be made.
func NotDrawn() []string { return []string{"I could not draw that. Type: status"} }

// ButtonOver is shown where a button does nothing any more.
const ButtonOver = "That button is over. Type it instead"

// TypeStem answers whether a photo of a hydrometer can be read.
func TypeStem() []string {
	return []string{"I can't read a stem on a photo.", "Type the number: eye level,", "bottom of the curve."}
}

// IsSerial is the button under CodeRead that takes the code for the batch named.
const IsSerial = "It is the serial"

// CodeRead shows the code of a photo and asks whether it is the serial of a batch,
// or of which one; asks is false where there is no batch yet.
func CodeRead(code, batch string, asks bool) []string {
	lines := []string{"Photo kept. Code on it:", Clip(code, Width)}
	switch {
	case batch != "":
		return append(lines, "The serial of "+Title(batch)+"'s kit?")
	case asks:
		return append(lines, "Which batch's serial is it?")
	}
	return append(lines, "Begin its batch, then send it again")
}

// Renamed answers a new name.
func Renamed(old, name string) []string {
	return []string{Title(old) + " is now " + Title(name)}
}

// FlagSet answers a yes or no about a batch.
func FlagSet(name, key, value string) []string {
	if value == "" || value == "on" {
		return []string{Title(name) + ": " + key}
	}
	return []string{fmt.Sprintf("%s: %s %s", Title(name), key, value)}
}

// Set answers a setting.
func Set(what, value string) []string { return Wrap(what + ": " + value) }

// Converted answers a conversion between scales.
func (s Style) Converted(g liquid.Gravity) []string {
	return []string{fmt.Sprintf("SG %s", s.SG(g)), fmt.Sprintf("%s Brix, %s °Oe, %s °Bé, %s KMW", s.Number(float64(g.Brix()), 1), s.Number(g.Oechsle(), 0), s.Number(g.Baume(), 1), s.Number(g.KMW(), 1))}
}

// TypeThis says how to type what a button asked for.
func (s Style) TypeThis(what string) []string {
	line := map[string]string{"temperature": "22c", "both": "sg 1.040 then sg 1.062", "ph": "ph 3.4", "so2": "free so2 28", "volume": "volume 21 l",
		"date": "remind me saturday to bottle", "tasting": "tasted: what it was like", "note": "note: what you saw", "who": "jo minds it", "water": "hydrometer reads 1.001 in water", "limit": "year limit 200 l", "bottles": "bottled 28"}[what]
	if line == "" {
		return s.TypeReading()
	}
	return s.typable("Type it like: " + line)
}
