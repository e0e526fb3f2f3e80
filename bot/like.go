package bot

import (
	"fmt"
	"strings"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
)

// beginLike begins what the text names from the sheet of the newest earlier batch of that
// name; where there is none it says so and begins it plain.
func (t *turn) beginLike(in parse.Intent) error {
	name := text(in.Args, "name")
	if like := text(in.Args, "like"); like != "" {
		name = like
	}
	var old *ferment.State
	for _, s := range t.bk.batches {
		if sameWine(s.Name, name) {
			old = s
		}
	}
	if old == nil {
		if err := t.tx.DropMessage(t.msg.ID); err != nil {
			return err
		}
		return t.reply(reply{Lines: say.NoEarlier(name), Whole: true})
	}
	return t.likeLast(old, in)
}

// sameWine reports names that differ by the vintage alone.
func sameWine(a, b string) bool { return strings.EqualFold(vintageless(a), vintageless(b)) }

// likeLast begins a batch from the sheet of an earlier one: kind, volume and plan, no
// readings. Another volume scales what went in, which is told and not logged.
func (t *turn) likeLast(s *ferment.State, in parse.Intent) error {
	litres := 0.0
	if v, ok := number(in.Args, "volume"); ok {
		litres, _ = ferment.LitresOf(v, text(in.Args, "unit"))
	}
	n, err := t.tx.NewBatch(t.bk.id, t.in.Now)
	if err != nil {
		return err
	}
	base := ferment.Entry{Message: t.msg.ID, Batch: n, At: t.in.At, Author: t.in.Member.ID, AuthorName: t.in.Member.Name, TypedAt: t.in.At}
	called := yearName(s.Name, t.in.At.In(t.bk.zone).Year())
	if n := text(in.Args, "name"); n != "" && !sameWine(n, s.Name) { // "new cherry, same as the gorse"
		called = n
	}
	name := called
	for i := 2; !t.free(name); i++ {
		name = fmt.Sprintf("%s %c", called, 'a'+i-1)
	}
	begun := base
	begun.Quantity, begun.Type, begun.Text = ferment.QNewBatch, string(s.Kind), name
	es := []ferment.Entry{begun}
	was := 0.0
	for _, e := range t.bk.entries[s.N] {
		first := e.Quantity == ferment.QVolume && e.Deed == "" && was == 0
		if first {
			was, _ = ferment.LitresOf(e.Value, e.Unit)
		}
		if e.Quantity != ferment.QSetting && !first || e.Key == ferment.SetRemind || e.Key == ferment.SetMeantSweet || e.Key == ferment.SetDryEnough {
			continue
		}
		c := base
		c.Quantity, c.Key, c.Value, c.Has, c.Unit, c.Typed, c.Text, c.Material = e.Quantity, e.Key, e.Value, e.Has, e.Unit, e.Typed, e.Text, e.Material
		if first && litres > 0 {
			c.Value, c.Unit = litres, "L"
			c.Typed = t.bk.style.Number(litres, 2)
		}
		c.Ordinal = len(es)
		es = append(es, c)
	}
	if was == 0 && litres > 0 {
		c := base
		c.Quantity, c.Value, c.Has, c.Unit, c.Typed, c.Ordinal = ferment.QVolume, litres, true, "L", t.bk.style.Number(litres, 2), len(es)
		es = append(es, c)
	}
	if _, err := t.tx.AddEntries(t.bk.id, es); err != nil {
		return err
	}
	if t.bk, err = t.b.load(t.tx, t.bk.id, t.in.At, 0); err != nil {
		return err
	}
	scale := 1.0
	if was > 0 && litres > 0 {
		scale = litres / was
	}
	now := t.bk.batch(n)
	return t.reply(reply{Lines: t.bk.style.BegunLike(now, s, scale), Batch: n, Whole: true,
		Buttons: append([]choice{{say.TypeGravity, action{Do: doType, Batch: n}}}, t.undoButton()...)})
}

// vintageless is a name without its year: "damson" of "damson 25".
func vintageless(name string) string {
	fields := strings.Fields(name)
	if n := len(fields); n > 1 && (len(fields[n-1]) == 2 || len(fields[n-1]) == 4) && strings.Trim(fields[n-1], "0123456789") == "" {
		fields = fields[:n-1]
	}
	return strings.Join(fields, " ")
}

// yearName gives last year's name this year's number: "damson 25" becomes "damson 26".
func yearName(name string, year int) string {
	return fmt.Sprintf("%s %02d", vintageless(name), year%100)
}
