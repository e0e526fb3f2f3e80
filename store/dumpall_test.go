package store

import (
	"bytes"
	"context"
	"database/sql"
	"fmt"
	"sort"
	"strings"
	"testing"
)

// mustDumpAll writes a whole database as SQL text: schema, rows, header.
func mustDumpAll(t testing.TB, db *DB) []byte {
	t.Helper()
	var b bytes.Buffer
	d := db.write.db
	var id int
	if err := d.QueryRow("PRAGMA application_id").Scan(&id); err != nil {
		t.Fatal(err)
	}
	fmt.Fprintf(&b, "PRAGMA application_id = %d;\n", id)
	for _, line := range mustTexts(t, d, "SELECT sql FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite%' ORDER BY rowid") {
		fmt.Fprintf(&b, "%s;\n", line)
	}
	for _, table := range mustTexts(t, d, "SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY rowid") {
		columns := mustTexts(t, d, "SELECT name FROM pragma_table_info('"+table+"')")
		if table == "sqlite_sequence" {
			fmt.Fprintln(&b, "DELETE FROM sqlite_sequence;")
		}
		quoted := "quote(" + strings.Join(columns, ") || ',' || quote(") + ")"
		for _, row := range mustTexts(t, d, "SELECT "+quoted+" FROM "+table) {
			fmt.Fprintf(&b, "INSERT INTO %s (%s) VALUES (%s);\n", table, strings.Join(columns, ","), row)
		}
	}
	for _, line := range mustTexts(t, d, "SELECT sql FROM sqlite_master WHERE type = 'index' AND sql IS NOT NULL ORDER BY rowid") {
		fmt.Fprintf(&b, "%s;\n", line)
	}
	return b.Bytes()
}

func mustTexts(t testing.TB, d *sql.DB, query string) []string {
	t.Helper()
	out, err := texts(context.Background(), d, query)
	if err != nil {
		t.Fatalf("%s: %v", query, err)
	}
	return out
}

// mustSchema is what SQLite keeps of a schema, sorted, blanks evened out.
func mustSchema(t testing.TB, db *DB) []string {
	t.Helper()
	out := mustTexts(t, db.write.db, "SELECT type || ' ' || name || ' ' || COALESCE(sql, '') FROM sqlite_master")
	for i := range out {
		out[i] = strings.Join(strings.Fields(out[i]), " ")
	}
	sort.Strings(out)
	return out
}

// diffLines shows the lines that only one of two dumps has.
func diffLines(a, b []byte) string {
	count := map[string]int{}
	for _, l := range strings.Split(string(a), "\n") {
		count[l]--
	}
	for _, l := range strings.Split(string(b), "\n") {
		count[l]++
	}
	var out []string
	for l, n := range count {
		if n != 0 {
			out = append(out, fmt.Sprintf("%+d %s", n, l))
		}
	}
	sort.Strings(out)
	return strings.Join(out, "\n")
}
