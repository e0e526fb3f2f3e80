package bot

import (
	"time"

	"mustbook/bot/parse"
	"mustbook/ferment"
)

// asksFor are the deeds that a reminder asks for; what is put in by its material.
var asksFor = map[string][]string{
	"R01": {ferment.DeedPitched}, "R03": {ferment.DeedWorking, ferment.DeedNotWorking}, "R04": {ferment.DeedWorking, ferment.DeedNotWorking},
	"R05": {ferment.DeedPitched, ferment.DeedWorking}, "R51": {ferment.DeedWorking, ferment.DeedNotWorking},
	"R12a": {ferment.DeedMoved}, "R12b": {ferment.DeedMoved}, "R14": {ferment.DeedMoved}, "R15": {ferment.DeedPitched},
	"R36": {ferment.DeedLaidDown}, "R38": {ferment.DeedLabelled},
	"R06":  {ferment.DeedStirred, ferment.DeedPunched},
	"R08a": {"addition nutrient"}, "R08b": {"addition sugar", "addition honey"}, "R10": {ferment.DeedRacked},
	"R11": {ferment.DeedStrained, ferment.DeedPressed}, "R19": {ferment.DeedStabilised, ferment.DeedRacked, "addition sulphite", "addition sorbate"},
	"R20": {"addition sulphite", "addition sorbate"}, "R21": {ferment.DeedDegassed}, "R22": {ferment.DeedFined, "addition finings"},
	"R23": {ferment.DeedRacked}, "R25": {ferment.DeedRacked, "addition sulphite"}, "R26": {ferment.DeedRacked}, "R27": {ferment.DeedToppedUp},
	"R29": {"addition sulphite"}, "R31": {ferment.DeedColdEnd, ferment.DeedRacked},
}

// remembered is how long a question makes its bare deed plain in a group: a day, and a
// week for what waits for a free evening and is said of little else.
func remembered(rule string) time.Duration {
	switch rule {
	case "R15", "R36", "R38":
		return 7 * day
	}
	return day
}

// expected understands a message anew that looks like a deed told twice, or like one
// that a group says of anything: what is due, or was just asked for, is done once more
// on purpose, and is the cellar's.
func (t *turn) expected(pc parse.Context, got parse.Intent) (parse.Intent, error) {
	items, err := t.b.newReminding(t.tx, t.bk, t.in.At).all()
	if err != nil {
		return got, err
	}
	said, err := t.b.allSaid(t.tx, t.bk, t.in.At)
	if err != nil {
		return got, err
	}
	found := false
	wants := func(batch int, rule string) {
		for i := range pc.Batches {
			if b := &pc.Batches[i]; b.N == batch && len(asksFor[rule]) > 0 {
				b.StepsDue = append(b.StepsDue, asksFor[rule]...)
				found = true
			}
		}
	}
	for _, it := range items {
		if !it.Due.After(t.in.At) {
			wants(batchOf(it), it.Rule)
		}
	}
	for _, r := range said {
		since := t.in.At.Sub(r.MadeAt)
		if since < day || got.Unasked != "" && r.AnsweredAt.IsZero() && since < remembered(r.Rule) {
			wants(batchOfSaid(r), r.Rule)
		}
	}
	if !found {
		return got, nil
	}
	return parse.Message(parse.Spoken(t.in.Text, pc.BotName), pc), nil
}
