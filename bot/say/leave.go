package say

// Labels of leaving and of taking in.
const (
	ExportIt  = "Export it"
	ExportAll = "Yes, send the files"
	PutIn     = "Put it in"
)

// AskExport asks before the book leaves as files, AskExportAgain once more.
func AskExport() []string {
	return []string{"The whole book as files?", "Whoever has them can read it all"}
}

// AskExportAgain says how much will leave.
func AskExportAgain(batches, entries int) []string {
	return []string{"Sure? " + count(batches, "batch", "batches") + ", " + count(entries, "entry", "entries"), "Photos stay here; a backup has them"}
}

// ExportTooLarge says where a book that no chat can carry is exported.
func ExportTooLarge() []string {
	return []string{"Too large for a chat. Where I run:", "mustbook export --to DIR"}
}

// ExportFile names what a file of the export is for.
func ExportFile(name string) string {
	switch name {
	case "mustbook.json":
		return "The book, to be taken in elsewhere"
	case "entries.csv":
		return "Every entry, for a spreadsheet"
	case "batches.csv":
		return "A line a batch"
	}
	return "Bottles made and left"
}

// FileTooLarge says where a file that is too large for a chat is taken in.
func FileTooLarge() []string {
	return []string{"Too large for a chat. Where I run:", "mustbook import FILE"}
}

// FileLost says that a file did not come.
func FileLost() []string { return []string{"I could not get that file. Send it anew"} }

// FileStrange says why a file cannot be taken in.
func FileStrange(why string) []string {
	return append([]string{"I can't take that file in"}, Wrap(why)...)
}

// BookNotEmpty refuses an export where there is something already.
func BookNotEmpty() []string {
	return []string{"This book is not empty", "A whole book goes into an empty one"}
}

// FileTaken says how much was put in, FileBack how much was taken back.
func FileTaken(entries int) string { return count(entries, "entry", "entries") + " put in" }

// FileBack says how much of a file was taken back.
func FileBack(entries int) []string {
	return []string{"The file is taken back: " + count(entries, "entry", "entries")}
}

// FileAgain says that what was taken back is there again.
func FileAgain(entries int) []string {
	return []string{"The file is back: " + count(entries, "entry", "entries")}
}

// Some counts things in words.
func Some(n int, one, many string) string { return count(n, one, many) }
