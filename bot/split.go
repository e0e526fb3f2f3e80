package bot

import (
	"mustbook/bot/parse"
	"mustbook/ferment"
)

// mostParts bounds a split: nobody has more jars of one must.
const mostParts = 6

// splitInto is how many litres each part gets: as the text says, two halves where it says
// nothing.
func splitInto(said, units string, s *ferment.State) []float64 {
	litres, n := parse.SplitInto(said, units)
	switch {
	case len(litres) > 1:
		return litres
	case len(litres) == 1 && s.VolumeL > litres[0]:
		return []float64{litres[0], s.VolumeL - litres[0]}
	}
	return equal(s.VolumeL, max(n, 2))
}

func equal(l float64, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = l / float64(n)
	}
	return out
}

// split divides a batch into parts that share its past.
func (t *turn) split(s *ferment.State, in parse.Intent) error {
	parts := splitInto(text(in.Args, "text"), t.bk.style.Units, s)
	total := 0.0
	for _, l := range parts {
		total += l
	}
	if len(parts) > mostParts || s.VolumeL > 0 && total > s.VolumeL*overShare {
		return t.reply(reply{Lines: t.bk.style.NoSuchSplit(s, len(parts), total), Whole: true})
	}
	var es []ferment.Entry
	var made []string
	for i, l := range parts {
		n, err := t.tx.NewBatch(t.bk.id, t.in.Now)
		if err != nil {
			return err
		}
		base := ferment.Entry{Message: t.msg.ID, Batch: n, At: t.in.At, Author: t.in.Member.ID, AuthorName: t.in.Member.Name, TypedAt: t.in.At}
		parent, name, volume := base, base, base
		parent.Quantity, parent.Other, parent.Key = ferment.QParent, s.N, ferment.DeedSplit
		name.Quantity, name.Text = ferment.QName, s.Name+" "+string(rune('a'+i))
		volume.Quantity, volume.Value, volume.Has, volume.Unit, volume.Deed = ferment.QVolume, l, l > 0, "L", ferment.DeedSplit
		volume.Typed = t.bk.style.Number(l, 2)
		es = append(es, parent, name, volume)
		made = append(made, name.Text)
	}
	for i := range es {
		es[i].Ordinal = i
	}
	if _, err := t.tx.AddEntries(t.bk.id, es); err != nil {
		return err
	}
	if _, err := t.set(s.N, ferment.Entry{Quantity: ferment.QEvent, Deed: ferment.DeedEmpty, Text: splitUp}); err != nil {
		return err
	}
	return t.reply(reply{Lines: t.bk.style.Split(s, made, parts), Whole: true, Buttons: t.undoButton()})
}

// splitUp is the word by which a batch ends that was parted.
const splitUp = "split"
