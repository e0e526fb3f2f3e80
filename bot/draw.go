package bot

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"mustbook/bot/chart"
	"mustbook/bot/parse"
	"mustbook/bot/report"
	"mustbook/bot/say"
	"mustbook/ferment"
	"mustbook/ferment/forecast"
	"mustbook/store"
)

// Drawn is a picture or a paper of a batch.
type Drawn struct {
	Name  string   // of the file
	Data  []byte   //
	Plain []string // the same for a terminal, in characters; nil: none
}

// pictured answers a request for a picture or a paper that names its batches; false
// where it names none.
func (t *turn) pictured(in parse.Intent) (bool, error) {
	ss := t.bk.named(text(in.Args, "text"))
	switch {
	case len(ss) == 0:
		return false, nil
	case in.Topic == parse.TopicGraph:
		return true, t.draw(in.Topic, ss...)
	}
	for _, s := range ss[:min(len(ss), chart.Most)] {
		if err := t.draw(in.Topic, s); err != nil {
			return true, err
		}
	}
	return true, nil
}

// draw answers what is to be looked at: the file is made when it is sent. Several
// batches are one graph, the newest of them where there are too many for one.
func (t *turn) draw(topic string, ss ...*ferment.State) error {
	what := topic
	if topic == parse.TopicGraph && len(ss) > 1 {
		ss = slices.DeleteFunc(slices.Clone(ss), func(s *ferment.State) bool { return s.Last == nil })
		ss = ss[max(0, len(ss)-chart.Most):]
		what = "side by side"
	}
	if topic == parse.TopicGraph && (len(ss) == 0 || ss[len(ss)-1].Last == nil) {
		return t.reply(reply{Lines: []string{"No gravity to draw yet"}})
	}
	var names []string
	render := topic
	for _, s := range ss {
		names = append(names, say.Title(s.Name))
		render += fmt.Sprintf(" %d", s.N)
	}
	r := reply{Lines: say.Wrap(strings.Join(names, ", ") + ": " + what), Kind: "document", Render: render, Whole: true}
	if len(ss) == 1 {
		r.Batch = ss[0].N // several leave the one that is spoken of as it is
	}
	switch topic {
	case parse.TopicGraph:
		r.Kind = "photo"
	case parse.TopicLabel:
		r.Lines = report.LabelText(ss[0], t.bk.paper())
	}
	return t.reply(r)
}

// Draw makes the file that a row of the outbox asks for, from the book as of now.
func (b *Bot) Draw(ctx context.Context, tx *store.Tx, o store.Out, now time.Time) (Drawn, error) {
	words := strings.Fields(o.Render)
	if len(words) == 2 && words[0] == parse.TopicExport {
		return b.exportFile(ctx, tx, o.Book, words[1], now)
	}
	bk, err := b.load(tx, o.Book, now, 0)
	if err != nil {
		return Drawn{}, err
	}
	var series []chart.Series
	for _, w := range words[min(1, len(words)):] {
		n, err := strconv.Atoi(w)
		if err != nil {
			return Drawn{}, fmt.Errorf("render %q: %w", o.Render, err)
		}
		if s := bk.batch(n); s != nil {
			series = append(series, chart.Series{State: s, Band: band(s)})
		}
	}
	if len(series) == 0 {
		return Drawn{}, store.ErrNotFound
	}
	s := series[0].State
	var names []string
	for _, x := range series {
		names = append(names, x.State.Name)
	}
	d := Drawn{Name: fileName(strings.Join(names, " "), words[0])}
	look := chart.Look{Zone: bk.zone, Fahrenheit: bk.house.Units == "us", Comma: bk.style.Comma}
	var w bytes.Buffer
	switch words[0] {
	case parse.TopicGraph:
		d.Plain = chart.Text(series, look, say.Width)
		err = chart.PNG(&w, series, look)
	case parse.TopicLabel:
		err = report.Labels(&w, s, bk.paper())
	default:
		var png bytes.Buffer
		if e := chart.PNG(&png, series[:1], look); e != nil {
			png.Reset() // a batch without gravities has a sheet without a graph
		}
		err = report.Sheet(&w, s, png.Bytes(), bk.paper(), now)
	}
	d.Data = w.Bytes()
	return d, err
}

// paper is how the household's papers look.
func (bk *book) paper() report.Look {
	return report.Look{Zone: bk.zone, Letter: bk.house.Units == "us", Figures: bk.style}
}

// fileName makes a name that every system takes.
func fileName(batch, topic string) string {
	plain := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			return r
		case r >= 'A' && r <= 'Z':
			return r + 'a' - 'A'
		}
		return '-'
	}, say.Clip(batch, 40))
	if plain = strings.Trim(plain, "-"); plain == "" {
		plain = "batch"
	}
	ext := ".pdf"
	if topic == parse.TopicGraph {
		ext = ".png"
	}
	return plain + "-" + topic + ext
}

// bandDays is how far the forecast's band is drawn, and bandStep how often.
const (
	bandDays = 10.0
	bandStep = 0.5
)

// band is the forecast's band from the newest reading on; nil where it says nothing.
func band(s *ferment.State) *chart.Band {
	if !working(s) {
		return nil
	}
	in := forecastInput(s)
	from := forecastFrom(s)
	last := float64(s.Last.At.Sub(from)) / float64(day)
	var days []float64
	for d := last; d <= last+bandDays; d += bandStep {
		days = append(days, d)
	}
	points, err := forecast.Band(in, days)
	if err != nil || len(points) < 2 {
		return nil
	}
	b := &chart.Band{}
	for _, p := range points {
		b.At = append(b.At, from.Add(time.Duration(p.Day*float64(day))))
		b.Low, b.Mid, b.High = append(b.Low, p.Low), append(b.Mid, p.Median), append(b.High, p.High)
	}
	return b
}
