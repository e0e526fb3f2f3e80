package bot

import (
	"bytes"
	"fmt"
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

// draw answers what is to be looked at: the file is made when it is sent.
func (t *turn) draw(topic string, s *ferment.State) error {
	r := reply{Lines: []string{say.Title(s.Name) + ": " + topic}, Batch: s.N, Kind: "document", Render: fmt.Sprintf("%s %d", topic, s.N), Whole: true}
	switch {
	case topic == parse.TopicGraph && s.Last == nil:
		return t.reply(reply{Lines: []string{say.Title(s.Name) + ": no gravity to draw yet"}, Batch: s.N})
	case topic == parse.TopicGraph:
		r.Kind = "photo"
	case topic == parse.TopicLabel:
		r.Lines = report.LabelText(s, t.bk.zone)
	}
	return t.reply(r)
}

// Draw makes the file that a row of the outbox asks for, from the book as of now.
func (b *Bot) Draw(tx *store.Tx, o store.Out, now time.Time) (Drawn, error) {
	topic, n := "", 0
	if _, err := fmt.Sscanf(o.Render, "%s %d", &topic, &n); err != nil {
		return Drawn{}, fmt.Errorf("render %q: %w", o.Render, err)
	}
	bk, err := b.load(tx, o.Book, now, 0)
	if err != nil {
		return Drawn{}, err
	}
	s := bk.batch(n)
	if s == nil {
		return Drawn{}, store.ErrNotFound
	}
	d := Drawn{Name: fileName(s.Name, topic)}
	var w bytes.Buffer
	switch topic {
	case parse.TopicGraph:
		d.Plain = chart.Text(s, bk.zone, say.Width)
		err = chart.PNG(&w, []chart.Series{{State: s, Band: band(s)}}, bk.zone)
	case parse.TopicLabel:
		err = report.Labels(&w, s, bk.zone, bk.house.Units == "us")
	default:
		var png bytes.Buffer
		if e := chart.PNG(&png, []chart.Series{{State: s, Band: band(s)}}, bk.zone); e != nil {
			png.Reset() // a batch without gravities has a sheet without a graph
		}
		err = report.Sheet(&w, s, png.Bytes(), bk.zone, bk.house.Units == "us", now)
	}
	d.Data = w.Bytes()
	return d, err
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
	}, say.Clip(batch, 24))
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
