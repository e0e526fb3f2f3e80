package bot

import (
	"slices"

	"mustbook/bot/say"
	"mustbook/ferment"
)

// doneTo is what was done to one of several batches.
type doneTo struct {
	s  *ferment.State
	es []ferment.Entry
}

// doneToEach parts what one message says of several batches by batch: deeds, additions and
// notes that leave each a batch of its own. Of one batch, or where wine went from one into
// another, it is empty.
func (t *turn) doneToEach(es []ferment.Entry) []doneTo {
	var out []doneTo
	for _, e := range es {
		switch e.Quantity {
		case ferment.QEvent, ferment.QAddition, ferment.QNote, ferment.QFault, ferment.QPlace:
		default:
			return nil
		}
		s := t.bk.batch(e.Batch)
		if s == nil || e.Deed == ferment.DeedDrawn {
			return nil
		}
		i := slices.IndexFunc(out, func(x doneTo) bool { return x.s == s })
		if i < 0 {
			i, out = len(out), append(out, doneTo{s: s})
		}
		out[i].es = append(out[i].es, e)
	}
	return out
}

// eachReceipt answers what was done to several batches: once where it is the same, and
// with the first caution that one of them calls for.
func (t *turn) eachReceipt(of []doneTo) error {
	var all []ferment.Entry
	var caution []string
	for _, x := range of {
		all = append(all, x.es...)
		if careful, err := t.caution(x.s, x.es); err != nil {
			return err
		} else if caution == nil {
			caution = careful
		}
	}
	r := reply{Lines: append(t.doneLines(of, ""), caution...), Plain: true, Whole: true, Buttons: t.undoButton()}
	if t.in.Kind == Text && t.in.Chat.Group() && caution == nil && quiet(all) {
		r.Reaction = thumb
	}
	return t.reply(r)
}

// doneLines tells what was done to several batches, in one line where it is the same.
func (t *turn) doneLines(of []doneTo, after string) []string {
	names := make([]string, len(of))
	whats := make([]string, len(of))
	for i, x := range of {
		names[i], whats[i] = say.ShortName(x.s.Name), t.bk.style.Done(x.es)
	}
	if len(slices.Compact(slices.Clone(whats))) == 1 {
		return say.Wrap(say.Both(names) + ": " + whats[0] + after)
	}
	var lines []string
	for i := range of {
		lines = append(lines, say.Clip(names[i]+": "+whats[i]+after, say.Width))
	}
	if n := len(lines) - say.Depth + 1; n > 1 {
		lines = append(lines[:say.Depth-1], say.AndMore(n))
	}
	return lines
}
