package parse

// intoNamed reports that what was said to the bot is a material and the batch that it is
// in: "sulfite dans le gamay". In English the word for it is a verb of its own.
func (r *reader) intoNamed() bool {
	if len(r.items) < 3 || len(r.items) > 5 || r.items[0].name(cMaterial) == "" || r.items[0].batch > 0 || r.items[1].name(cToward) != "in" || !r.addressed() {
		return false
	}
	named := false
	for k := 2; k < len(r.items); k++ {
		it := &r.items[k]
		named = named || it.batch > 0
		if it.batch == 0 && it.kind != tPunct && !it.is(cFill) && !it.is(cArt) {
			return false
		}
	}
	return named && !r.items[len(r.items)-1].punct("?")
}
