package bot

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode"

	"mustbook/ferment"
)

// tableRow is a line of a table of date, gravity, temperature.
type tableRow struct {
	at      time.Time // in no zone: the house's is put to it
	day     bool
	sg      float64
	typed   string
	temp    *float64
	tempRaw string
}

// readTable reads a table. A first line that holds no reading is its heading.
func readTable(raw []byte) (*Taken, error) {
	c := csv.NewReader(bytes.NewReader(raw))
	c.FieldsPerRecord, c.Comma = -1, separator(raw)
	t, head := &Taken{unit: "C"}, ""
	for {
		l, err := c.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, fmt.Errorf("not a table: %w", err)
		}
		n, _ := c.FieldPos(0)
		r, err := readRow(l)
		switch {
		case err != nil && head == "" && len(t.rows) == 0:
			head = strings.ToLower(strings.Join(l, " "))
		case err != nil:
			return nil, fmt.Errorf("line %d: %w", n, err)
		default:
			t.rows = append(t.rows, r)
		}
	}
	if len(t.rows) == 0 {
		return nil, errors.New("no line with a date and a gravity")
	}
	t.unit = tableUnit(head, t.rows)
	return t, nil
}

// separator is what stands between the cells: a spreadsheet of a country with a
// decimal comma writes semicolons.
func separator(raw []byte) rune {
	best, most := ',', 0
	line, _, _ := bytes.Cut(raw, []byte("\n"))
	for _, s := range ";\t," { // of equals the rarer sign: a comma may be a decimal
		if n := bytes.Count(line, []byte(string(s))); n > most {
			best, most = s, n
		}
	}
	return best
}

// hottestC is above any temperature of a ferment in °C: a table with a warmer one is
// in °F.
const hottestC = 45

// tableUnit is the unit of a table's temperatures: what the heading says, else what
// makes sense.
func tableUnit(head string, rows []tableRow) string {
	switch {
	case strings.Contains(head, "°f") || strings.Contains(head, "(f)") || strings.Contains(head, "fahrenheit"):
		return "F"
	case strings.Contains(head, "°c") || strings.Contains(head, "(c)") || strings.Contains(head, "celsius"):
		return "C"
	}
	for _, r := range rows {
		if r.temp != nil && *r.temp > hottestC {
			return "F"
		}
	}
	return "C"
}

// Dates that cannot be read in two ways: 3/4/2026 is March in one country and April
// in the next.
var tableDates = []string{"2006-01-02 15:04:05", "2006-01-02 15:04", "2006-01-02T15:04", "2006-01-02T15:04:05", time.RFC3339, "2006-01-02",
	"2.1.2006 15:04", "2.1.2006", "2 Jan 2006 15:04", "2 Jan 2006", "2 January 2006"}

func readRow(l []string) (tableRow, error) {
	if len(l) < 2 {
		return tableRow{}, errors.New("wants a date and a gravity")
	}
	var r tableRow
	for _, form := range tableDates {
		if at, err := time.Parse(form, cellText(l[0])); err == nil {
			r.at, r.day = at, !strings.Contains(form, "15")
			break
		}
	}
	if r.at.IsZero() || r.at.Year() < 1900 {
		return r, fmt.Errorf("no date: %q; write it like 2026-05-03", l[0])
	}
	r.typed = cellText(l[1])
	sg, err := strconv.ParseFloat(strings.Replace(r.typed, ",", ".", 1), 64)
	if err == nil && sg >= 975 && sg <= 1200 {
		sg /= 1000 // "1048", as the stem has it
	}
	if err != nil || !(sg >= 0.975 && sg <= 1.2) {
		return r, fmt.Errorf("no gravity: %q; write it like 1.048", l[1])
	}
	r.sg = math.Round(sg*1e6) / 1e6
	if len(l) > 2 && cellText(l[2]) != "" {
		r.tempRaw = cellText(l[2])
		t, err := strconv.ParseFloat(strings.Replace(strings.TrimRight(r.tempRaw, "°CF "), ",", ".", 1), 64)
		if err != nil || !(t >= -5 && t <= 120) {
			return r, fmt.Errorf("no temperature: %q", l[2])
		}
		r.temp = &t
	}
	return r, nil
}

// cellText is what a cell says; a ' in front only keeps a spreadsheet from reckoning.
func cellText(s string) string { return strings.TrimPrefix(strings.TrimSpace(s), "'") }

func nameLetter(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }

// entries are a table as entries of a batch that it begins.
func (t *Taken) entries(base ferment.Entry, name string, zone *time.Location) []ferment.Entry {
	begun := base
	begun.Quantity, begun.Text, begun.Deed, begun.At = ferment.QNewBatch, name, "new batch", t.rows[0].when(zone)
	es := []ferment.Entry{begun}
	for _, r := range t.rows {
		g := base
		g.Quantity, g.Value, g.Has, g.Unit, g.Typed, g.At, g.DayOnly = ferment.QSG, r.sg, true, "sg", r.typed, r.when(zone), r.day
		es = append(es, g)
		if r.temp != nil {
			g.Quantity, g.Value, g.Unit, g.Typed = ferment.QTemp, *r.temp, t.unit, r.tempRaw
			es = append(es, g)
		}
		if r.when(zone).Before(es[0].At) {
			es[0].At = r.when(zone)
		}
	}
	for i := range es {
		es[i].Ordinal = i
	}
	return es
}

// when is the moment of a line in the house's zone; noon where only the day is known.
func (r tableRow) when(zone *time.Location) time.Time {
	y, m, d := r.at.Date()
	if r.day {
		return dateNoon(y, m, d, zone)
	}
	return time.Date(y, m, d, r.at.Hour(), r.at.Minute(), r.at.Second(), 0, zone)
}
