package store

import (
	"strings"
	"time"
)

// Dump returns a table as readable lines for scripts, the first with its column
// names: readings, entries, members, chats, outbox or said. Instants are shown in
// loc to the minute. ErrNotFound for another name.
func (tx *Tx) Dump(table string, loc *time.Location) ([]string, error) {
	d, ok := dumps[table]
	if !ok {
		return nil, ErrNotFound
	}
	lines, err := all(tx, func(s scanner) (string, error) { return d.line(s, loc) }, d.query)
	return append([]string{strings.Join(d.columns, "  ")}, lines...), err
}

// dump is a query whose columns come as text, the one named by when an instant.
type dump struct {
	columns []string
	when    int
	query   string
}

var dumps = map[string]dump{
	"readings": {[]string{"batch", "at", "quantity", "value"}, 1,
		`SELECT CAST(batch AS TEXT), at, quantity, typed || CASE unit WHEN '' THEN '' ELSE ' ' || unit END
			FROM entry WHERE live = 1 AND value IS NOT NULL ORDER BY book, batch, at, id`},
	"entries": {[]string{"batch", "at", "quantity", "typed", "unit", "deed", "material", "text"}, 1,
		`SELECT CAST(batch AS TEXT), at, quantity, typed, unit, deed, material, text
			FROM entry WHERE live = 1 ORDER BY book, batch, at, id`},
	"members": {[]string{"name", "joined", "rights"}, 1,
		`SELECT name, joined, CASE WHEN host = 1 THEN 'host' WHEN keeper = 1 THEN 'keeper' ELSE 'member' END
			FROM member WHERE gone IS NULL ORDER BY id`},
	"chats": {[]string{"kind", "title", "admitted"}, -1,
		"SELECT kind, title, CASE admitted WHEN 1 THEN 'admitted' ELSE 'not admitted' END FROM chat ORDER BY id"},
	"outbox": {[]string{"kind", "created", "state", "text"}, 1,
		"SELECT kind, created, state, replace(text, char(10), ' / ') FROM outbox ORDER BY id"},
	"said": {[]string{"rule", "due", "subject", "n", "occurrence", "answer"}, 1,
		"SELECT rule, due, kind, CAST(n AS TEXT), CAST(occurrence AS TEXT), answer FROM said ORDER BY id"},
}

func (d dump) line(s scanner, loc *time.Location) (string, error) {
	cells := make([]string, len(d.columns))
	var when time.Time
	dest := make([]any, len(cells))
	for i := range cells {
		dest[i] = &cells[i]
		if i == d.when {
			dest[i] = at(&when)
		}
	}
	if err := s.Scan(dest...); err != nil {
		return "", err
	}
	if d.when >= 0 {
		cells[d.when] = when.In(loc).Format("2006-01-02 15:04")
	}
	return strings.TrimRight(strings.Join(cells, "  "), " "), nil
}
