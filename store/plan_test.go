package store

import (
	"database/sql"
	"fmt"
	"slices"
	"strings"
	"testing"
)

// mayScan names, by how their text begins, the queries that may walk through a
// table, with the reason. All others must find their rows by a key.
var mayScan = map[string]string{
	"SELECT id, name, created, claimed FROM book ORDER BY": "there are few books, and all are wanted",
	"SELECT CAST(batch AS TEXT)":                           "test scripts only",
	// These walk along an index that holds only the rows that wait.
	dueOut:   "outbox_due",
	dueOutID: "outbox_due",
	"SELECT " + outColumns + " FROM outbox WHERE state = 'sending'": "outbox_sending",
	"SELECT " + inColumns + " FROM inbox WHERE state = 'new'":       "inbox_new",
	"SELECT COUNT(*) FROM inbox WHERE state = 'new'":                "inbox_new",
	"SELECT " + photoColumns + " FROM photo WHERE jpeg IS NULL":     "photo_fetch",
	// Once in the life of a household or a group.
	"DELETE FROM chat":                       "a group changes its id",
	"UPDATE message SET chat":                "a group changes its id",
	"UPDATE chat_alias":                      "a group changes its id",
	"DELETE FROM outbox":                     "forgetting",
	"UPDATE outbox SET text":                 "forgetting",
	"DELETE FROM inbox WHERE state <> 'new'": "forgetting",
	"DELETE FROM invite WHERE book":          "there are few invites",
}

// maySort names the queries that may sort what they found: it is little.
var maySort = []string{
	"SELECT member, batch, at FROM focus",
	"SELECT " + saidColumns,
	"SELECT CAST(batch AS TEXT)",
	"SELECT m.id, m.book, m.name", // the people of one group
	"SELECT " + messageColumns + " FROM message m WHERE m.book = ? AND m.at >= ?", // two days of one household
	"DELETE FROM inbox WHERE state <> 'new'",
}

// TestPlans asks SQLite how it would run every query that the store has, on an
// empty file without statistics, as on a new one.
func TestPlans(t *testing.T) {
	w, calls := mustFull(t, func(w *world) int64 { return w.a.ID })
	for name, call := range calls {
		if err := w.db.Update(ctx, func(tx *Tx) error { // all of it undone again
			if _, err := call(tx); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			return errMine
		}); err == nil {
			t.Fatal("not undone")
		}
	}
	queries := []string{dueOut} // asked only where nothing is remembered
	for q := range w.db.write.stmts {
		queries = append(queries, q)
	}
	for q := range w.db.write.wanted {
		queries = append(queries, q)
	}
	slices.Sort(queries)
	if len(queries) < 100 {
		t.Errorf("only %d queries were met", len(queries))
	}
	unused := map[string]bool{}
	for prefix := range mayScan {
		unused[prefix] = true
	}
	for _, q := range queries {
		for _, line := range mustPlan(t, w.db.write.db, q) {
			prefix := begins(q, mayScan)
			switch {
			case strings.HasPrefix(line, "SCAN") && line != "SCAN CONSTANT ROW" && !strings.Contains(line, "VIRTUAL TABLE"): // a list that was given
				delete(unused, prefix)
				if prefix == "" {
					t.Errorf("%s\n\t%s", q, line)
				}
			case strings.Contains(line, "TEMP B-TREE"):
				if !slices.ContainsFunc(maySort, func(p string) bool { return strings.HasPrefix(q, p) }) {
					t.Errorf("%s\n\t%s", q, line)
				}
			}
		}
	}
	for prefix := range unused {
		t.Errorf("no longer scans, take it off the list: %s", prefix)
	}
}

func begins(q string, list map[string]string) string {
	for prefix := range list {
		if strings.HasPrefix(q, prefix) {
			return prefix
		}
	}
	return ""
}

func mustPlan(t *testing.T, d *sql.DB, query string) []string {
	t.Helper()
	if verb, _, _ := strings.Cut(query, " "); verb == "SAVEPOINT" || verb == "RELEASE" || verb == "ROLLBACK" {
		return nil
	}
	args := make([]any, strings.Count(query, "?"))
	if strings.Contains(query, "?1") {
		args = args[:1]
	}
	rows, err := d.Query("EXPLAIN QUERY PLAN "+query, args...)
	if err != nil {
		t.Fatalf("%s: %v", query, err)
	}
	defer rows.Close()
	var out []string
	for rows.Next() {
		var id, parent, unused int
		var line string
		if err := rows.Scan(&id, &parent, &unused, &line); err != nil {
			t.Fatal(err)
		}
		out = append(out, line)
	}
	if err := rows.Err(); err != nil {
		t.Fatal(err)
	}
	return out
}

// TestAHouseholdLiesTogether: its live entries come from the index alone. One that had to
// go to the table for each would be read from all over the file.
func TestAHouseholdLiesTogether(t *testing.T) {
	w := mustWorld(t)
	for _, where := range []string{ofBatch, ofBook} {
		got := fmt.Sprint(mustPlan(t, w.db.write.db, "SELECT "+packedColumns+" FROM entry WHERE live = 1 AND "+where))
		if !strings.Contains(got, "USING COVERING INDEX entry_book") || strings.Contains(got, "TEMP B-TREE") {
			t.Errorf("%s: %s", where, got)
		}
	}
}

// TestPlanTestCanFail: the check above would see a scan.
func TestPlanTestCanFail(t *testing.T) {
	w := mustWorld(t)
	got := fmt.Sprint(mustPlan(t, w.db.write.db, "SELECT id FROM entry WHERE material = ? ORDER BY unit"))
	if !strings.Contains(got, "SCAN entry") || !strings.Contains(got, "TEMP B-TREE") {
		t.Error(got)
	}
}
