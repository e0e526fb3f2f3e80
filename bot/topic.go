package bot

import (
	"fmt"
	"time"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
	"mustbook/ferment/liquid"
)

// question answers what was asked, changes a setting, or cries for help.
func (t *turn) question(in parse.Intent) error {
	if text, ok := say.Danger(in.Topic, say.EmergencyIn(t.bk.zone.String())); ok {
		return t.firstAid(text)
	}
	if done, err := t.setting(in); done || err != nil {
		return err
	}
	if done, err := t.general(in); done || err != nil {
		return err
	}
	s, err := t.meant(in)
	if err != nil {
		return err
	}
	if s == nil {
		if len(t.bk.batches) == 0 {
			return t.reply(reply{Lines: t.bk.style.NoBatches()})
		}
		return t.askWhich(in)
	}
	return t.about(in, s)
}

// meant is the batch that a question is about: named, in focus, or the only one.
func (t *turn) meant(in parse.Intent) (*ferment.State, error) {
	if s := t.bk.batch(in.Batch); s != nil {
		return s, nil
	}
	n, err := t.focus()
	if err != nil {
		return nil, err
	}
	if s := t.bk.batch(n); s != nil {
		return s, nil
	}
	if open := t.bk.open(); len(open) == 1 {
		return open[0], nil
	}
	return nil, nil
}

func (t *turn) askWhich(in parse.Intent) error {
	r := reply{Lines: say.WhichBatch(), Whole: true}
	for _, s := range t.bk.open() {
		r.Buttons = append(r.Buttons, choice{say.Title(s.Name), action{Do: doMore, Batch: s.N, Key: in.Topic}})
	}
	return t.reply(r)
}

// general answers what is about the house or about no batch at all.
func (t *turn) general(in parse.Intent) (bool, error) {
	st := t.bk.style
	switch in.Topic {
	case parse.TopicList:
		return true, t.reply(reply{Lines: st.List(t.bk.batches), Whole: true})
	case parse.TopicHelp, parse.TopicStart:
		return true, t.reply(reply{Lines: t.bk.style.HelpWhole(t.stageInFocus()), Whole: true})
	case parse.TopicSettings:
		return true, t.reply(reply{Lines: st.Settings(t.bk.house, t.bk.zone), Whole: true})
	case parse.TopicConvert, parse.TopicPotential:
		if v, ok := number(in.Args, "value"); ok {
			return true, t.convert(v, text(in.Args, "unit"))
		}
	case parse.TopicDueWeek:
		return true, t.answerWeek()
	case parse.TopicNext:
		if in.Batch == 0 && len(t.bk.open()) > 1 {
			return true, t.answerWeek()
		}
	case parse.TopicReopen:
		return true, t.reopen(in)
	case parse.TopicLikeLast:
		if begin, _ := in.Args["begin"].(bool); begin {
			return true, t.beginLike(in)
		}
	case parse.TopicMerge:
		return true, t.merge(in)
	case parse.TopicBlend:
		return t.blendAsked(in)
	case parse.TopicRestore:
		return true, t.restore(in)
	case parse.TopicGraph, parse.TopicSheet, parse.TopicLabel:
		return t.pictured(in)
	case parse.TopicPhoto:
		return true, t.reply(reply{Lines: say.TypeStem(), Whole: true})
	case parse.TopicForget:
		return true, t.askForget(in)
	case parse.TopicExport:
		return true, t.askExport()
	case parse.TopicMembers, parse.TopicInvite, parse.TopicNewHousehold, parse.TopicMakeKeeper, parse.TopicAdmit:
		if t.b.Access == nil {
			return true, t.reply(reply{Lines: []string{"Only on the chat platform"}})
		}
		_, err := t.b.Access.Command(t.tx, t.in)
		return true, err
	case parse.TopicSwitch:
		if s := t.bk.batch(in.Batch); s != nil {
			if err := t.takeTopic(s.N); err != nil {
				return true, err
			}
			return true, t.reply(reply{Lines: st.Status(s, t.outlookOf(s), t.nextOf(s)), Batch: s.N})
		}
	case parse.TopicHelpFault:
		s, err := t.meant(in)
		if err != nil {
			return true, err
		}
		if l := st.Fault(s, text(in.Args, "fault")); l != nil {
			r := reply{Lines: l, Whole: true}
			if s != nil {
				r.Lines, r.Batch = append([]string{say.Title(s.Name) + ":"}, l...), s.N
			}
			return true, t.reply(r)
		}
	}
	return false, nil
}

func (t *turn) outlookOf(s *ferment.State) say.Outlook {
	return t.b.outlook(t.tx, t.bk, s, t.in.Quick).say()
}

// flagTopics are what is said of a batch in a word or two.
var flagTopics = map[string]action{
	parse.TopicMarkSweet:    {Key: ferment.SetMeantSweet, Text: "on"},
	parse.TopicMarkFizzy:    {Key: ferment.SetMeantFizzy, Text: "on"},
	parse.TopicDryEnough:    {Key: ferment.SetDryEnough, Text: "on"},
	parse.TopicMalolactic:   {Key: ferment.SetMLF, Text: "wanted"},
	parse.TopicNoMalolactic: {Key: ferment.SetMLF, Text: "unwanted"},
}

// about answers a question on one batch.
func (t *turn) about(in parse.Intent, s *ferment.State) error {
	if f, ok := flagTopics[in.Topic]; ok {
		f.Batch = s.N
		return t.setFlag(f)
	}
	if in.Topic == parse.TopicBottlesFrom && s.BottlesMade > 0 {
		in.Topic = parse.TopicBottles // they are counted: the book knows
	}
	st, o, next := t.bk.style, t.b.outlook(t.tx, t.bk, s, t.in.Quick), t.nextOf(s)
	r := reply{Batch: s.N, Whole: true}
	switch in.Topic {
	case parse.TopicABV:
		r.Lines = st.Alcohol(s)
	case parse.TopicPotential:
		r.Lines = st.Potential(s)
	case parse.TopicNext:
		r.Lines = st.NextSteps(s, next)
	case parse.TopicHistory:
		r.Lines = st.History(s, t.bk.entries[s.N])
	case parse.TopicSugarLeft, parse.TopicHowSweet:
		r.Lines = st.Sugar(s)
	case parse.TopicVolume:
		r.Lines = st.VolumeNow(s)
	case parse.TopicWhenRack, parse.TopicWhenDry, parse.TopicIsStuck, parse.TopicWhenBottle, parse.TopicIsStopped:
		r.Lines = st.Foresight(in.Topic, s, say.Ahead{Outlook: o.say(), Days: o.all(), Rate: o.Rate, Gate: s.Gate(t.in.At), Next: next})
	case parse.TopicStabilise:
		if r.Lines = st.MayStabilise(s); !s.Bottled.IsZero() || s.Stage == ferment.Empty {
			r.Lines = say.NothingIn(s)
		}
	case parse.TopicIfBottled:
		at := t.in.At
		if !s.Bottled.IsZero() {
			at = s.Bottled // the gate of the day on which it was closed
		}
		if why := s.Gate(at); len(why) > 0 {
			r.Lines = st.NotSafe(s, why)
		} else {
			r.Lines = st.SafeToBottle(s)
		}
	case parse.TopicContents:
		r.Lines = st.Contents(s)
	case parse.TopicMore, parse.TopicWhy:
		r.Lines = st.Why(s)
	case parse.TopicBottles:
		r.Lines = st.Bottles(s)
	case parse.TopicDelete:
		return t.deleteBatch(s)
	case parse.TopicEmpty:
		return t.recordAs(s, ferment.DeedEmpty)
	case parse.TopicGraph, parse.TopicSheet, parse.TopicLabel:
		return t.draw(in.Topic, s)
	case parse.TopicLikeLast:
		return t.likeLast(s, in)
	case parse.TopicSplit:
		return t.split(s, in)
	case parse.TopicWho, parse.TopicWhenWas:
		if r.Lines = st.LastDid(s, text(in.Args, "deed")); text(in.Args, "deed") == "" {
			r.Lines = t.lastDone(s)
		}
	case parse.TopicTemp, parse.TopicTooHot, parse.TopicTooCold:
		r.Lines = st.TempNow(s)
	case parse.TopicTempWanted:
		r.Lines = st.TempWanted(s)
	default:
		if worked, ok := t.bench(in, s); ok {
			r = worked
			break
		}
		r.Lines = st.Status(s, o.say(), next)
	}
	return t.reply(r)
}

// recordAs logs a deed that came as a command.
func (t *turn) recordAs(s *ferment.State, deed string) error {
	return t.keep(parse.Intent{Kind: parse.Event, Event: deed, Batch: s.N,
		Entries: []parse.Entry{{Quantity: string(ferment.QEvent), Deed: deed, Batch: s.Name, BatchN: s.N}}})
}

func (t *turn) deleteBatch(s *ferment.State) error {
	name := s.Name
	if _, err := t.set(s.N, ferment.Entry{Quantity: ferment.QEvent, Deed: ferment.DeedDeleted}); err != nil {
		return err
	}
	return t.reply(reply{Lines: []string{say.Title(name) + ": deleted", "Kept 30 days: restore " + say.Title(name)}, Buttons: t.undoButton()})
}

// restoreWithin is how long a deleted batch can be brought back.
const restoreWithin = 30 * 24 * time.Hour

func (t *turn) restore(in parse.Intent) error {
	var best *ferment.State
	for _, s := range t.bk.deleted {
		if t.in.At.Sub(s.Deleted) > restoreWithin {
			continue
		}
		if best == nil || parse.NamesWine(text(in.Args, "text"), s.Name) {
			best = s // the one named, else the newest
		}
	}
	if best == nil {
		return t.reply(reply{Lines: []string{"No deleted batch of the last 30 days"}})
	}
	for _, e := range t.bk.entries[best.N] {
		if e.Deed == ferment.DeedDeleted {
			if err := t.tx.VoidRoots(t.bk.id, []int64{e.Root}, t.in.Member.ID, t.in.At); err != nil {
				return err
			}
		}
	}
	return t.reply(reply{Lines: []string{say.Title(best.Name) + " is back"}, Batch: best.N})
}

// convert tells a gravity in the other scales, or the alcohol it could make.
func (t *turn) convert(v float64, unit string) error {
	q := map[string]ferment.Quantity{"Bx": ferment.QBrix, "Blg": ferment.QBalling, "Oe": ferment.QOechsle, "Be": ferment.QBaume, "KMW": ferment.QKMW}[unit]
	st := t.bk.style
	if q == "" {
		switch {
		case unit == "C":
			return t.reply(reply{Lines: []string{fmt.Sprintf("%s °C is %s °F", st.Number(v, 1), st.Number(liquid.Celsius(v).Fahrenheit(), 1))}})
		case unit == "F":
			return t.reply(reply{Lines: []string{fmt.Sprintf("%s °F is %s °C", st.Number(v, 1), st.Number(float64(liquid.FahrenheitToCelsius(v)), 1))}})
		}
		if l, ok := ferment.LitresOf(v, unit); ok {
			return t.reply(reply{Lines: []string{fmt.Sprintf("%s L, %s US gal, %s imp gal", st.Number(l, 2), st.Number(l/3.785411784, 2), st.Number(l/4.54609, 2))}})
		}
		q = ferment.QSG
	}
	g, err := ferment.GravityOf(q, v)
	if err != nil {
		return t.reply(reply{Lines: say.Wrap(err.Error())})
	}
	lines := st.Converted(g)
	if p, err := liquid.PotentialAlcohol(g); err == nil && g >= 1.01 {
		lines = append(lines, fmt.Sprintf("If dry, about %s %% vol", st.ABV(p)))
	}
	return t.reply(reply{Lines: lines, Whole: true})
}

func number(args map[string]any, key string) (float64, bool) {
	switch v := args[key].(type) {
	case float64:
		return v, true
	case int:
		return float64(v), true
	}
	return 0, false
}

func text(args map[string]any, key string) string {
	s, _ := args[key].(string)
	return s
}
