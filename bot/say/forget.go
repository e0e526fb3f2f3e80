package say

// Labels of the buttons of forgetting.
const (
	LabelForget        = "Forget it"
	LabelForgetAll     = "Yes, forget all"
	LabelForgetBackups = "Forget there too"
)

// AskForget asks before a book is emptied; AskForgetAgain a second time.
func AskForget(backups bool) []string {
	if backups {
		return []string{"Forget the whole book, photos too,", "and in the nightly backups?", "Export it first: it can't come back"}
	}
	return []string{"Forget the whole book, photos too?", "Export it first: it can't come back"}
}

// AskForgetAgain is the second question.
func AskForgetAgain(batches int) []string {
	return []string{"Sure? " + count(batches, "batch", "batches") + " will be gone"}
}

// Forgotten tells that the book is empty and how many nightly backups hold it; less
// than 0 where they could not be looked at.
func Forgotten(backups int) []string {
	switch {
	case backups < 0:
		return []string{"Forgotten: the book is empty.", "Backups may still hold it"}
	case backups == 0:
		return []string{"Forgotten: the book is empty.", "Copies made by hand may still hold it"}
	}
	return []string{"Forgotten: the book is empty.", count(backups, "nightly backup still holds it", "nightly backups still hold it")}
}

// BackupsForgotten tells in how many backups the book was emptied too.
func BackupsForgotten(n int) []string {
	if n == 0 {
		return []string{"Forgotten: the book is empty.", "No nightly backup holds it"}
	}
	return []string{"Forgotten in " + count(n, "backup", "backups") + " too.", "Copies made by hand may still hold it"}
}

// BackupsNotForgotten tells that a backup could not be changed.
func BackupsNotForgotten() []string {
	return []string{"A backup could not be changed.", "Look at the program's folder of backups"}
}
