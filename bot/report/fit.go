package report

// share gives each list as many lines as it needs, or, where they do not all have
// room, an equal part; what a short list leaves goes to the longer ones.
func share(need []int, room int) []int {
	got := make([]int, len(need))
	for left := true; left && room > 0; {
		left = false
		for i := range need {
			if got[i] < need[i] && room > 0 {
				got[i]++
				room--
				left = true
			}
		}
	}
	return got
}

// shorten keeps n lines of a list, the first and the last of it, with a line in
// between that tells how many are missing.
func shorten(rows []row, n int) []row {
	if len(rows) <= n {
		return rows
	}
	if n < 3 {
		return []row{missingRow(len(rows))}
	}
	head := (n - 1) / 2
	tail := n - 1 - head
	out := append([]row{}, rows[:head]...)
	out = append(out, missingRow(len(rows)-n+1))
	return append(out, rows[len(rows)-tail:]...)
}
