package bot

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"mustbook/ferment"
	"mustbook/store"
)

// The ways in which spreadsheets of several countries write the same readings.
func TestReadTable(t *testing.T) {
	for name, c := range map[string]struct{ raw, want string }{
		"comma":            {"date,sg,temp\n2024-10-01,1.085,21\n2024-10-03,1.060,\n", "2024-10-01 1.085 21C; 2024-10-03 1.060 -"},
		"semicolon, comma": {"Datum;Dichte;Temp\r\n1.10.2024;1,085;21,5\r\n", "2024-10-01 1.085 21.5C"},
		"tab, no heading":  {"2024-10-01 18:30\t1048\t20\n", "2024-10-01 18:30 1.048 20C"},
		"byte order mark":  {"\ufeff2024-10-01,1.085\n", "2024-10-01 1.085 -"},
		"fahrenheit":       {"date,sg,temp\n2024-10-01,1.085,68\n", "2024-10-01 1.085 68F"},
		"heading says":     {"date,sg,temp (°F)\n2024-10-01,1.085,44\n", "2024-10-01 1.085 44F"},
		"our own export":   {"date,sg\n\"2024-10-01\",'1.085\n", "2024-10-01 1.085 -"},
		"in words":         {"1 Oct 2024,1.085\n12 October 2024,1.010,19 °C\n", "2024-10-01 1.085 -; 2024-10-12 1.010 19C"},
	} {
		in, err := ReadImport("", []byte(c.raw))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		var got []string
		for _, r := range in.rows {
			l := r.at.Format("2006-01-02 15:04")
			if r.day {
				l = r.at.Format("2006-01-02")
			}
			l += fmt.Sprintf(" %.3f ", r.sg)
			if r.temp == nil {
				l += "-"
			} else {
				l += fmt.Sprint(*r.temp) + in.unit
			}
			got = append(got, l)
		}
		if strings.Join(got, "; ") != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// What cannot be read is told with its line; a date that two countries read
// differently is not guessed at.
func TestBadTables(t *testing.T) {
	for raw, want := range map[string]string{
		"": "no line with", "date,sg\n": "no line with", "3/4/2024,1.085\n3/5/2024,1.080\n": `line 2: no date: "3/5/2024"`,
		"2024-10-01,1.085\n2024-10-02,12\n": `line 2: no gravity: "12"`, "2024-10-01,1.085\n2024-10-02\n": "line 2: wants a date and a gravity",
		"2024-10-01,1.085,warm\n2024-10-01,1.085,300\n": "no temperature", "2024-10-01,NaN\n2024-10-01,NaN\n": "no gravity",
		"{": "not an export", `{"version":2}`: "an export of version 2", "a,b\n2024-10-01,\"1.085\n": "not a table",
	} {
		if in, err := ReadImport("", []byte(raw)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %+v, %v; want %q", raw, in, err, want)
		}
	}
}

func TestBatchName(t *testing.T) {
	for file, want := range map[string]string{"Elder 24.csv": "elder 24", "/home/nora/wein_2023-24.csv": "wein 2023 24", "=cmd().csv": "cmd", "….csv": "", "": ""} {
		if got := batchName(file); got != want {
			t.Errorf("%q: %q, want %q", file, got, want)
		}
	}
}

// An export goes into an empty book only, once taken back that is one again; an export
// that was tampered with changes nothing.
func TestImportWhere(t *testing.T) {
	raw := lived(t).json()
	c := newCellar(t)
	put := func(raw string) error {
		in, err := ReadImport("", []byte(raw))
		if err != nil {
			return err
		}
		c.now = c.now.Add(time.Minute)
		return c.db.Update(t.Context(), func(tx *store.Tx) error { _, err := c.bot.Import(tx, c.chat.Book, in, c.now); return err })
	}
	for _, bad := range [][3]string{
		{`"n":2,`, `"n":1,`, "twice"},
		{`"root":5,`, `"void":true,"root":99,`, "not there"},
		{`"root":5,`, `"root":99,`, "not there"},
		{`"id":6,"root":6,`, `"id":5,"root":5,`, "entry 5 is there twice"},
		{`"at":"2026`, `"at":"soon`, "soon"},
		{`"at":"2026`, `"at":"0026`, "the year 26"},
		{`"quantity":"setting"`, `"quantity":""`, "no quantity"},
		{`"made":"2026`, `"made":"2x26`, "reminder"},
	} {
		broken := strings.Replace(string(raw), bad[0], bad[1], 1)
		if broken == string(raw) {
			t.Errorf("there is no %s", bad[0])
		}
		if err := put(broken); err == nil || !strings.Contains(err.Error(), bad[2]) {
			t.Errorf("%s: %v, want %q", bad[1], err, bad[2])
		}
	}
	if err := put(string(raw)); err != nil {
		t.Fatal(err)
	}
	if err := put(string(raw)); err != ErrNotEmpty {
		t.Errorf("into a full book: %v", err)
	}
	c.say(time.Minute, "undo")
	if err := put(string(raw)); err != nil {
		t.Errorf("into one that was emptied: %v", err)
	}
	c.update(func(tx *store.Tx) error {
		bk, err := c.bot.load(tx, c.chat.Book, c.now, 0)
		if err != nil {
			return err
		}
		var names []string
		for _, s := range bk.batches {
			names = append(names, s.Name)
		}
		if got := strings.Join(names, ", "); got != "damson, kit, damson a, damson b, damson" {
			t.Errorf("the book has %s", got)
		}
		if s := bk.batches[2]; s.OG != bk.batches[0].OG || s.Kind != ferment.Country {
			t.Errorf("%s does not go back to what it was split from: %v, %v", s.Name, s.OG, bk.batches[0].OG)
		}
		return nil
	})
}
