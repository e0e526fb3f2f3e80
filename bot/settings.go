package bot

import (
	"fmt"
	"strings"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
)

// set writes a setting as an entry under this turn's message: by whom and when,
// undone like any other. batch 0 is the house.
func (t *turn) set(batch int, e ferment.Entry) (ferment.Entry, error) {
	if t.msg.ID == 0 {
		if err := t.ownMessage(); err != nil {
			return e, err
		}
	}
	have, err := t.tx.EntriesOfMessage(t.bk.id, t.msg.ID)
	if err != nil {
		return e, err
	}
	for _, h := range have {
		e.Ordinal = max(e.Ordinal, h.Ordinal+1)
	}
	if e.Quantity == "" {
		e.Quantity = ferment.QSetting
	}
	if e.At.IsZero() {
		e.At = t.in.At
	}
	e.Message, e.Batch = t.msg.ID, batch
	e.Author, e.AuthorName, e.TypedAt = t.in.Member.ID, t.in.Member.Name, t.in.At
	out, err := t.tx.AddEntries(t.bk.id, []ferment.Entry{e})
	if err != nil {
		return e, fmt.Errorf("set: %w", err)
	}
	t.bk, err = t.b.load(t.tx, t.bk.id, t.in.At, 0)
	return out[0], err
}

// commaFlag is the house's setting of a decimal comma.
const commaFlag = "decimal comma"

// setting changes what the house or a batch's plan is served with.
func (t *turn) setting(in parse.Intent) (bool, error) {
	v, has := number(in.Args, "value")
	house := func(what, value string, e ferment.Entry) (bool, error) {
		if _, err := t.set(0, e); err != nil {
			return true, err
		}
		return true, t.reply(reply{Lines: say.Set(what, value), Buttons: t.undoButton()})
	}
	switch in.Topic {
	case parse.TopicSetUnits:
		u := text(in.Args, "units")
		return house("Units", say.UnitsName(u), ferment.Entry{Key: ferment.SetUnits, Text: u})
	case parse.TopicSetDecimal:
		on := map[bool]string{true: "on", false: "off"}[text(in.Args, "mark") == "comma"]
		return house("Decimal mark", text(in.Args, "mark"), ferment.Entry{Key: ferment.SetFlag, Material: commaFlag, Text: on})
	case parse.TopicSetGallon:
		g := text(in.Args, "gallon")
		return house("Gallon", g, ferment.Entry{Key: ferment.SetGallon, Text: g})
	case parse.TopicSetZone:
		return t.setZone(text(in.Args, "zone"))
	case parse.TopicSetHydrometer:
		if !has {
			return false, nil
		}
		c := ferment.CelsiusOf(v, text(in.Args, "unit"))
		return true, t.instrumentWord(in, ferment.Entry{Quantity: ferment.QSetting, Key: ferment.SetReference, Value: c, Has: true})
	case parse.TopicSetThermometer:
		if text(in.Args, "unit") == "F" {
			v /= 1.8 // a difference, not a temperature
		}
		return true, t.instrumentWord(in, ferment.Entry{Quantity: ferment.QSetting, Key: ferment.SetThermometer, Value: v, Has: true})
	case parse.TopicOwnHydrometer:
		return true, t.instrumentWord(in, ferment.Entry{Quantity: ferment.QSetting, Key: ferment.SetOwn, Text: ferment.InstrumentName(text(in.Args, "instrument"))})
	case parse.TopicSetBottle:
		l, ok := ferment.LitresOf(v, text(in.Args, "unit"))
		if !has || !ok {
			return false, nil
		}
		return house("Bottle", t.bk.style.Volume(l), ferment.Entry{Key: ferment.SetBottleML, Value: l * 1000, Has: true})
	case parse.TopicSetYear:
		l, ok := ferment.LitresOf(v, text(in.Args, "unit"))
		if !has || !ok {
			return true, t.reply(reply{Lines: t.bk.style.TypeThis("limit")})
		}
		if _, err := t.set(0, ferment.Entry{Key: ferment.SetYearLimit, Value: l, Has: true}); err != nil {
			return true, err
		}
		return true, t.reply(reply{Lines: t.bk.style.YearLimit(l, t.bk.scheduleHouse(t.in.At).YearMadeL), Whole: true, Buttons: t.undoButton()})
	case parse.TopicSetQuiet:
		from, to, _ := strings.Cut(t.bk.house.Quiet, "-")
		if to == "" { // they were off
			from, to = "21:30", "07:30"
		}
		if f := text(in.Args, "from"); f != "" {
			from = f
		}
		if u := text(in.Args, "to"); u != "" {
			to = u
		}
		q := from + "-" + to
		if off, _ := in.Args["off"].(bool); off {
			q = "off"
		}
		return house("Quiet hours", q, ferment.Entry{Key: ferment.SetQuiet, Text: q})
	case parse.TopicSetLanguage:
		return true, t.reply(reply{Lines: []string{"I answer in English so far;", "words of other languages I understand"}})
	case parse.TopicRemind:
		return true, t.remind(in)
	}
	if done, err := t.reminderSetting(in); done || err != nil {
		return done, err
	}
	return t.planSetting(in)
}

func (t *turn) setZone(name string) (bool, error) {
	if t.b.Zone == nil || name == "" || name == "Local" {
		return true, t.reply(reply{Lines: []string{"Zone: type it like Europe/Dublin"}})
	}
	z, err := t.b.Zone(name)
	if err != nil {
		return true, t.reply(reply{Lines: []string{"“" + say.Clip(name, 20) + "” is no zone I know.", "Type it like Europe/Dublin"}})
	}
	if _, err := t.set(0, ferment.Entry{Key: ferment.SetZone, Text: z.String()}); err != nil {
		return true, err
	}
	return true, t.reply(reply{Lines: say.Set("Zone", z.String()), Buttons: t.undoButton()})
}

// planEntries are the settings that a topic changes in a batch's plan, and the line that
// tells them; nil for other topics.
func (t *turn) planEntries(topic string, args map[string]any) ([]ferment.Entry, string) {
	from := "house"
	if args["sheet"] == true {
		from = "sheet"
	}
	st := t.bk.style
	switch topic {
	case parse.TopicSetRack:
		v, _ := number(args, "sg")
		return []ferment.Entry{{Key: ferment.SetRackAt, Value: v, Has: true, Text: from}}, "rack at " + st.Bare(v)
	case parse.TopicSetCheckDay:
		v, _ := number(args, "day")
		return []ferment.Entry{{Key: ferment.SetCheckDay, Value: v, Has: true, Text: from}}, "check on day " + st.Number(v, 0)
	case parse.TopicSetRange:
		low, _ := number(args, "low")
		high, _ := number(args, "high")
		return []ferment.Entry{{Key: ferment.SetSheetLow, Value: low, Has: true}, {Key: ferment.SetSheetHigh, Value: high, Has: true}},
			"sheet " + st.Bare(low) + "–" + st.Bare(high)
	}
	return nil, ""
}

// grant sets what was wished for a batch where it is begun.
func (t *turn) grant(ws []parse.Wish, es []ferment.Entry) error {
	for _, w := range ws {
		set, _ := t.planEntries(w.Topic, w.Args)
		for _, e := range set {
			if _, err := t.set(es[0].Batch, e); err != nil {
				return err
			}
		}
	}
	return nil
}

// planSetting changes a batch's own thresholds and intervals.
func (t *turn) planSetting(in parse.Intent) (bool, error) {
	es, line := t.planEntries(in.Topic, in.Args)
	if es == nil {
		return false, nil
	}
	st := t.bk.style
	s, err := t.meant(in)
	if err != nil {
		return true, err
	}
	if s == nil {
		return true, t.reply(reply{Lines: say.WhichBatch()})
	}
	for _, e := range es {
		if _, err := t.set(s.N, e); err != nil {
			return true, err
		}
	}
	s = t.bk.batch(s.N)
	lines := []string{say.Title(s.Name) + ": " + line}
	if in.Topic == parse.TopicSetRange && s.Sheet != ferment.SheetNone && s.Last != nil && s.Pitched.IsZero() {
		lines = append(lines, st.SheetLines(s)...)
	}
	return true, t.reply(reply{Lines: lines, Batch: s.N, Whole: true, Buttons: t.undoButton()})
}
