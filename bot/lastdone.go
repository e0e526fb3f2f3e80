package bot

import (
	"mustbook/bot/say"
	"mustbook/ferment"
)

// lastDone tells what was put in the book last for a batch, when and by whom.
func (t *turn) lastDone(s *ferment.State) []string {
	newest := t.bk.newest(func(e *ferment.Entry) bool {
		switch e.Quantity {
		case ferment.QSetting, ferment.QName, ferment.QParent:
			return false
		}
		return e.Batch == s.N
	})
	if newest == nil {
		return t.bk.style.LastDid(s, "")
	}
	var es []ferment.Entry
	for _, e := range t.bk.together(*newest) {
		if e.Batch == s.N {
			es = append(es, e)
		}
	}
	if len(es) == 0 {
		es = []ferment.Entry{*newest}
	}
	when := t.bk.style.Moment(newest.At)
	if newest.DayOnly {
		when = t.bk.style.Day(newest.At)
	}
	return []string{t.bk.style.Noted(s, es, nil)[0], when + ", by " + say.Clip(newest.AuthorName, 20)}
}
