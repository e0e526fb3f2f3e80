package bot

import (
	"fmt"
	"time"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
	"mustbook/ferment/liquid"
	"mustbook/store"
)

// secondDose is how long a dose of the same stuff is asked about again.
const secondDose = 24 * time.Hour

// offer gives the answer a button that logs what it told.
func (b *benched) offer(label, deed string, es ...parse.Entry) {
	for i := range es {
		if es[i].Batch == "" {
			es[i].Batch, es[i].BatchN = b.s.Name, b.s.N
		}
	}
	b.label = label
	b.add = action{Do: doAdd, Batch: b.s.N, Key: deed, Entries: es}
	if len(es) > 0 {
		b.add.Value = float64(len(within(b.s, es[0].Material, b.style.Now)))
	}
}

// weighed is an addition of so many grams, as the answer told them.
func (b *benched) weighed(material string, g liquid.Grams) parse.Entry {
	v, unit, typed := b.style.Weighed(float64(g))
	return parse.Entry{Quantity: string(ferment.QAddition), Value: &v, Unit: unit, Typed: typed, Material: material}
}

// poured is so many litres of a quantity, as the answer told them.
func (b *benched) poured(q ferment.Quantity, material string, l liquid.Litres) parse.Entry {
	v, unit, typed := b.style.Measured(float64(l))
	return parse.Entry{Quantity: string(q), Value: &v, Unit: unit, Typed: typed, Material: material}
}

// within lists what of the same stuff went in during the day before an instant.
func within(s *ferment.State, material string, at time.Time) []ferment.Addition {
	c := ferment.ClassOf(material)
	var out []ferment.Addition
	for _, a := range s.Additions {
		if c != ferment.Unclassed && ferment.ClassOf(a.Material) == c && !a.At.After(at) && at.Sub(a.At) < secondDose {
			out = append(out, a)
		}
	}
	return out
}

// second says that the same stuff went in within the day.
func (b *benched) second(material string) string {
	if as := within(b.s, material, b.style.Now); len(as) > 0 {
		return b.style.SecondDose(as[len(as)-1])
	}
	return ""
}

// addOnce logs what an answer of the bench told, at the time of the tap. A button logs
// once, however often it is pressed; a dose that went in after the answer was given is
// asked about first.
func (t *turn) addOnce(a action) error {
	once := a.Text
	if once == "" {
		once = t.in.Button
	}
	fresh, err := t.pressOnce(once)
	if err != nil {
		return err
	}
	if !fresh {
		return t.reply(reply{Lines: say.AlreadyThere()})
	}
	s := t.bk.batch(a.Batch)
	if s == nil || len(a.Entries) == 0 {
		return t.reply(reply{Lines: say.Gone()})
	}
	if since := within(s, a.Entries[0].Material, t.in.At); len(since) > int(a.Value) {
		again := a
		again.Text, again.Value = once, float64(len(since))
		return t.reply(reply{Lines: []string{t.bk.style.SecondDose(since[len(since)-1])}, Batch: s.N, Whole: true,
			Buttons: []choice{{say.Second, again}, {say.Drop, action{Do: doDrop}}}})
	}
	return t.keep(parse.Intent{Kind: parse.Event, Event: a.Key, Batch: s.N, Entries: a.Entries})
}

// mostTaps is how often one button may log again what was taken back.
const mostTaps = 50

// pressOnce gives a button's deed a message of its own; false where what it logged
// stands in the book. Taken back, the next tap gets a message of the newer time.
func (t *turn) pressOnce(once string) (bool, error) {
	for i := range mostTaps {
		m, dup, err := t.tx.AddMessage(store.Message{Book: t.bk.id, Chat: t.in.Chat.ID, Member: t.in.Member.ID, OriginChat: -t.in.Chat.ID,
			PlatformMessage: pressKey(fmt.Sprintf("%s/%d", once, i)), Text: "", At: t.in.At, Kind: "press"})
		if err != nil {
			return false, err
		}
		t.msg = m
		have, err := t.tx.EntriesOfMessage(t.bk.id, m.ID)
		if err != nil || len(have) > 0 {
			return false, err
		}
		if !dup {
			return true, nil
		}
	}
	return false, nil
}
