package bot

import (
	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
)

// instrumentWord takes a word on an instrument: what it is marked for, its error, whose it
// is. It holds from now on. For what was read before, it shows first what would change.
func (t *turn) instrumentWord(in parse.Intent, e ferment.Entry) error {
	if e.Key != ferment.SetThermometer && e.Key != ferment.SetOwn {
		e.Instrument = ferment.InstrumentName(text(in.Args, "instrument"))
	}
	if e.At.IsZero() {
		e.At = t.in.At
	}
	if all, _ := in.Args["all"].(bool); !all {
		return t.keepWord(e)
	}
	e.Type = ferment.SetAllReadings
	changed := t.changedBy(e)
	if len(changed) == 0 {
		return t.keepWord(e)
	}
	word := e
	return t.reply(reply{Lines: t.bk.style.Changes(changed), Whole: true, Buttons: []choice{
		{say.Yes, action{Do: doForAll, Message: t.msg.ID, Word: &word}}, {say.No, action{Do: doDrop, Message: t.msg.ID}}}})
}

// keepWord stores a word on an instrument as an entry of the house.
func (t *turn) keepWord(e ferment.Entry) error {
	if _, err := t.set(0, e); err != nil {
		return err
	}
	return t.reply(reply{Lines: t.bk.style.InstrumentWord(e, t.in.Member.Name), Buttons: t.undoButton()})
}

// changedBy folds every batch as if a word had been said, and tells which gravities it
// would move by as much as can be shown.
func (t *turn) changedBy(e ferment.Entry) []say.Change {
	as := *t.bk
	as.settled = append(append([]ferment.Entry(nil), t.bk.settled...), e)
	var out []say.Change
	for _, s := range t.bk.batches {
		n, _ := as.fold(s.N, t.bk.entries[s.N], t.bk.entries, t.in.At, nil)
		if n == nil || len(n.Readings) != len(s.Readings) {
			continue
		}
		for i := range s.Readings {
			was, is := s.Readings[i], n.Readings[i]
			if t.bk.style.SG(was.SG) != t.bk.style.SG(is.SG) {
				out = append(out, say.Change{Batch: s.Name, At: was.At, Was: was.SG, Is: is.SG})
			}
		}
	}
	return out
}
