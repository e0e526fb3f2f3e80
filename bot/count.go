package bot

import (
	"time"

	"mustbook/bot/say"
	"mustbook/ferment"
)

// countsFor is how long bottles are counted together: a day's bottling.
const countsFor = 24 * time.Hour

// counting reports bottles that are being counted: what somebody says next adds to them.
func counting(s *ferment.State, now time.Time) bool {
	return len(s.Counts) > 0 && !s.Counted && now.Sub(s.Counts[0].At) < countsFor
}

// nearlyAll is the share of the wine that is usually in the bottles at the end: what is
// lost in filling is 4 to 7 % (common practice, no source).
const nearlyAll = 0.9

// countReceipt answers bottles while they are being counted: the sum so far, by whom, and
// how much of the wine it is. A lone count of about all the wine is answered like any deed.
func (t *turn) countReceipt(s *ferment.State, e ferment.Entry) (bool, error) {
	if e.Type == "total" {
		return true, t.reply(reply{Lines: t.bk.style.BottlesCounted(s), Batch: s.N, Whole: true, Buttons: t.undoButton()})
	}
	if !counting(s, t.in.At) || t.in.At.Sub(e.At) > countsFor {
		return false, nil
	}
	if len(s.Counts) == 1 && (s.VolumeL == 0 || s.BottledL() >= nearlyAll*s.VolumeL) {
		return false, nil
	}
	r := reply{Lines: t.bk.style.Counting(s, t.in.Chat.Group()), Batch: s.N, Whole: true,
		Buttons: []choice{{say.AllDone, action{Do: doCounted, Batch: s.N}}}}
	last := s.Counts[len(s.Counts)-1]
	for _, c := range s.Counts {
		if c.Author != last.Author {
			r.Buttons = append(r.Buttons, choice{say.InTheirs(last.By), action{Do: doInTheirs, Batch: s.N, Roots: []int64{last.Root}}})
			break
		}
	}
	r.Buttons = append(r.Buttons, t.undoButton()...)
	return true, t.reply(r)
}

// allCounted ends the sum: what was counted is the total.
func (t *turn) allCounted(a action) error {
	s := t.bk.batch(a.Batch)
	if s == nil || s.Counted {
		return nil // somebody has said so already
	}
	e := ferment.Entry{Quantity: ferment.QBottles, Type: "total", Value: float64(s.BottlesMade), Has: true, Unit: "bottle"}
	if _, err := t.set(s.N, e); err != nil {
		return err
	}
	return t.reply(reply{Lines: t.bk.style.BottlesCounted(t.bk.batch(s.N)), Batch: s.N, Whole: true, Buttons: t.undoButton()})
}

// inTheirs takes out of the sum what whoever presses counted too: it was in the newest
// count. Pressed by whose count that is, it takes out what the others counted.
func (t *turn) inTheirs(a action) error {
	s := t.bk.batch(a.Batch)
	if s == nil {
		return t.reply(reply{Lines: say.Gone()})
	}
	var last *ferment.Count
	for i := range s.Counts {
		if s.Counts[i].Root == a.Roots[0] {
			last = &s.Counts[i]
		}
	}
	if last == nil || s.Counted {
		return t.reply(reply{Lines: say.Gone()})
	}
	var twice []int64
	for _, c := range s.Counts {
		if c.Author != last.Author && c.Root != last.Root && (c.Author == t.in.Member.ID || t.in.Member.ID == last.Author) {
			twice = append(twice, c.Root)
		}
	}
	if len(twice) == 0 {
		return t.reply(reply{Lines: say.Gone()})
	}
	if err := t.tx.VoidRoots(t.bk.id, twice, t.in.Member.ID, t.in.At); err != nil {
		return err
	}
	var err error
	if t.bk, err = t.b.load(t.tx, t.bk.id, t.in.At, 0); err != nil {
		return err
	}
	return t.reply(reply{Lines: t.bk.style.Counting(t.bk.batch(s.N), t.in.Chat.Group()), Batch: s.N, Whole: true,
		Buttons: []choice{{say.AllDone, action{Do: doCounted, Batch: s.N}}, {say.PutBack, action{Do: doRedo, Roots: twice}}}})
}
