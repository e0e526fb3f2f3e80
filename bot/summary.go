package bot

import (
	"context"
	"time"

	"mustbook/ferment"
	"mustbook/store"
)

// Summary is a batch's state as other programs read it: one object of `replay
// --json` and of an export. Unknown is null; gravities are 20/20 °C, unrounded.
type Summary struct {
	Type       string         `json:"type"` // always "batch"
	N          int            `json:"n"`
	Batch      string         `json:"batch"`
	Kind       string         `json:"kind"`
	Stage      string         `json:"stage"`
	Conditions []string       `json:"conditions"`
	OG         *float64       `json:"og"`
	SG         *float64       `json:"sg"`
	ABV        *float64       `json:"abv"`
	ABVDoubt   *float64       `json:"abv_doubt"`
	SugarLeft  *float64       `json:"sugar_left_g_per_L"`
	Volume     *float64       `json:"volume_L"`
	Stopped    bool           `json:"stopped"`
	Forecast   []ForecastItem `json:"forecast"`
	Next       []NextItem     `json:"next"`
}

// ForecastItem is when a gravity is reached; the days are null where it is
// reached by less than a tenth of the curves.
type ForecastItem struct {
	Target float64 `json:"target"`
	Median *string `json:"median"`
	Low    *string `json:"low"`
	High   *string `json:"high"`
	PNever float64 `json:"p_never"`
}

// NextItem is a step that is due: an id of the reminders and its day.
type NextItem struct {
	What string  `json:"what"`
	Due  *string `json:"due"`
}

// Summaries folds every batch of a book as of now, those that were deleted left out.
func (b *Bot) Summaries(ctx context.Context, tx *store.Tx, id int64, now time.Time) ([]Summary, error) {
	w, err := b.newWalk(ctx, tx, id, now)
	if err != nil {
		return nil, err
	}
	if err := w.survey(); err != nil {
		return nil, err
	}
	var out []Summary
	err = w.each(func(_ int, s *ferment.State) error {
		m, err := w.summary(s)
		if m != nil {
			out = append(out, *m)
		}
		return err
	})
	return out, err
}

func summarise(s *ferment.State, o outlook, next []NextItem, zone *time.Location) Summary {
	m := Summary{Type: "batch", N: s.N, Batch: s.Name, Kind: string(s.Kind), Stage: string(s.Stage), Conditions: []string{},
		Stopped: s.Stop.Verdict != ferment.StopNo && s.Stop.Verdict != ferment.StopStuck, Forecast: []ForecastItem{}, Next: []NextItem{}}
	for _, c := range s.Conditions {
		m.Conditions = append(m.Conditions, string(c))
	}
	switch o.Verdict {
	case "slow":
		m.Conditions = append(m.Conditions, string(ferment.Sluggish))
	case "stuck":
		if !s.Has(ferment.Stuck) {
			m.Conditions = append(m.Conditions, string(ferment.Stuck))
		}
	}
	m.OG = known(float64(s.OG), s.OG > 0)
	if s.Last != nil {
		m.SG = known(float64(s.Last.SG), true)
	}
	m.ABV, m.ABVDoubt = known(float64(s.ABV), s.ABVKnown), known(float64(s.ABVDoubt), s.ABVKnown)
	m.SugarLeft = known(s.SugarLeft, s.SugarKnown)
	m.Volume = known(s.VolumeL, s.VolumeL > 0)
	for _, c := range o.Crossings {
		f := ForecastItem{Target: c.Target, PNever: c.PNever}
		if c.PNever <= 0.9 {
			f.Median, f.Low, f.High = instant(c.Median, zone), instant(c.Low, zone), instant(c.High, zone)
		}
		m.Forecast = append(m.Forecast, f)
	}
	m.Next = append(m.Next, next...)
	return m
}

func known(v float64, ok bool) *float64 {
	if !ok {
		return nil
	}
	return &v
}

func instant(t time.Time, zone *time.Location) *string {
	if t.IsZero() {
		return nil
	}
	s := t.In(zone).Format(time.RFC3339)
	return &s
}

// Verify folds every batch of a book anew and reports how many there are: a book
// that cannot be read back is not sound.
func (b *Bot) Verify(ctx context.Context, tx *store.Tx, id int64, now time.Time) (int, error) {
	w, err := b.newWalk(ctx, tx, id, now)
	if err != nil {
		return 0, err
	}
	n := 0
	return n, w.each(func(_ int, s *ferment.State) error {
		if s != nil && s.Deleted.IsZero() {
			n++
		}
		return nil
	})
}
