package schedule

import "sort"

// BundleLines is how many lines one message of the day may hold.
const BundleLines = 5

// Bundle returns what a day's message shows, the most pressing first, and how many
// more there are, for "what next". All of them count as made. Where there is more
// the last line is left free to say so.
func Bundle(items []Item) (shown []Item, more int) {
	sorted := Pressing(items)
	if len(sorted) <= BundleLines {
		return sorted, 0
	}
	return sorted[:BundleLines-1], len(sorted) - BundleLines + 1
}

// Pressing sorts items by how pressing they are, the most pressing first.
func Pressing(items []Item) []Item {
	sorted := append([]Item(nil), items...)
	sort.SliceStable(sorted, func(i, j int) bool { return pressing(sorted[i]) < pressing(sorted[j]) })
	return sorted
}

// Split parts what is due now into what goes alone and what goes into one message.
func Split(items []Item) (alone, together []Item) {
	for _, it := range items {
		if it.Bundle {
			together = append(together, it)
		} else {
			alone = append(alone, it)
		}
	}
	return alone, together
}
