package village

import (
	"context"
	"database/sql"
	"fmt"
	"strings"

	"mustbook/store"
)

// Multiply copies all households of a closed file as often as told, each copy with
// ids of its own: what Settle needs hours for is done in minutes, because the rows
// never leave SQLite. It knows the schema, which is why it stands here and not in
// the store: no program of a household may do this.
func Multiply(ctx context.Context, path string, times int, told func(done int)) error {
	// Nothing is lost that could not be made again.
	d, err := sql.Open("sqlite", "file:"+path+"?_pragma=journal_mode(WAL)&_pragma=synchronous(OFF)&_pragma=temp_store(2)&_pragma=cache_size(-200000)")
	if err != nil {
		return err
	}
	defer d.Close()
	d.SetMaxOpenConns(1)
	shifts := map[string]int64{}
	for column, query := range spans {
		var n int64
		if err := d.QueryRowContext(ctx, query).Scan(&n); err != nil {
			return fmt.Errorf("%s: %w", query, err)
		}
		shifts[column] = n
	}
	copies, err := copying(ctx, d, shifts)
	if err != nil {
		return err
	}
	for k := 1; k < times; k++ {
		t, err := d.BeginTx(ctx, nil)
		if err != nil {
			return err
		}
		for _, q := range copies {
			if _, err := t.ExecContext(ctx, q, sql.Named("k", k)); err != nil {
				t.Rollback()
				return fmt.Errorf("%s: %w", q, err)
			}
		}
		if err := t.Commit(); err != nil {
			return err
		}
		if told != nil {
			told(k + 1)
		}
	}
	_, err = d.ExecContext(ctx, "PRAGMA wal_checkpoint(TRUNCATE)")
	return err
}

// spans count how far each kind of id reaches.
var spans = map[string]string{
	"book": "SELECT MAX(id) FROM book", "member": "SELECT MAX(id) FROM member", "chat": "SELECT MAX(id) FROM chat",
	"message": "SELECT MAX(id) FROM message", "entry": "SELECT MAX(id) FROM entry", "outbox": "SELECT COALESCE(MAX(id), 0) FROM outbox",
	"person": "SELECT COUNT(*) FROM book",
}

// moves says which column of which table holds an id of which kind.
var moves = map[string]map[string]string{
	"book":    {"id": "book"},
	"member":  {"id": "member", "book": "book", "platform_user": "person"},
	"chat":    {"id": "chat", "book": "book", "platform_id": "person", "member": "member"},
	"message": {"id": "message", "book": "book", "chat": "chat", "member": "member", "origin_chat": "person"},
	"batch":   {"book": "book"},
	"entry":   {"id": "entry", "root": "entry", "book": "book", "message": "message", "of_root": "entry", "author": "member"},
	"outbox":  {"id": "outbox", "book": "book", "chat": "chat", "message": "message"},
	"subject": {"book": "book", "n": "book"},
}

// order keeps what is referred to before what refers.
var order = []string{"book", "member", "chat", "message", "batch", "entry", "outbox", "subject"}

// copying makes one statement a table, with the columns that the file has.
func copying(ctx context.Context, d *sql.DB, shifts map[string]int64) ([]string, error) {
	var out []string
	for _, table := range order {
		rows, err := d.QueryContext(ctx, "SELECT name FROM pragma_table_info(?)", table)
		if err != nil {
			return nil, err
		}
		var into, from []string
		for rows.Next() {
			var c string
			if err := rows.Scan(&c); err != nil {
				return nil, err
			}
			into, from = append(into, c), append(from, moved(table, c, shifts))
		}
		if err := rows.Err(); err != nil {
			return nil, err
		}
		first := "book"
		if table == "book" {
			first = "id"
		}
		out = append(out, fmt.Sprintf("INSERT INTO %s (%s) SELECT %s FROM %s WHERE %s <= %d",
			table, strings.Join(into, ", "), strings.Join(from, ", "), table, first, shifts["book"]))
	}
	return out, nil
}

// moved is a column of the copy; 0 means none and stays.
func moved(table, column string, shifts map[string]int64) string {
	switch kind := moves[table][column]; {
	case kind != "":
		return fmt.Sprintf("CASE %[1]s WHEN 0 THEN 0 ELSE %[1]s + :k * %[2]d END", column, shifts[kind])
	case table == "outbox" && column == "source":
		return "source || '#' || :k"
	}
	return column
}

// Grow settles a file with the households of s and multiplies them; the file is
// closed before and after.
func (v *Village) Grow(ctx context.Context, path string, o store.Options, s Size, times int, told func(done int)) (Tally, error) {
	db, err := store.Open(ctx, path, o)
	if err != nil {
		return Tally{}, err
	}
	t, err := v.Settle(ctx, db, s, nil)
	if e := db.Close(); err == nil {
		err = e
	}
	if err != nil {
		return t, err
	}
	n := int64(len(t.Books))
	for k := int64(1); k < int64(times); k++ {
		for _, b := range t.Books[:n] {
			t.Books = append(t.Books, b+k*n)
		}
	}
	t.Batches, t.Messages, t.Entries, t.Answers = t.Batches*times, t.Messages*times, t.Entries*times, t.Answers*times
	return t, Multiply(ctx, path, times, told)
}
