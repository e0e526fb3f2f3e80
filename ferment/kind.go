package ferment

import "strings"

// kindWords find the kind of a batch by a part of its name, where nobody said it;
// the first that matches counts.
var kindWords = []struct {
	part string
	kind Kind
}{
	{"kit", Kit}, {"mead", Mead}, {"honey", Mead}, {"cider", Cider}, {"cyder", Cider}, {"perry", Cider},
	{"rosé", Rose}, {"rose wine", Rose}, {"red grape", Red}, {"white grape", White}, {"red wine", Red}, {"white wine", White},
	{"damson", Country}, {"elder", Country}, {"gorse", Country}, {"plum", Country}, {"sloe", Country}, {"apple", Country},
	{"pear", Country}, {"quince", Country}, {"cherry", Country}, {"berry", Country}, {"berries", Country}, {"currant", Country},
	{"rhubarb", Country}, {"parsnip", Country}, {"beetroot", Country}, {"carrot", Country}, {"ginger", Country}, {"dandelion", Country},
	{"flower", Country}, {"blossom", Country}, {"rosehip", Country}, {"rose hip", Country}, {"rowan", Country}, {"medlar", Country},
	{"peach", Country}, {"apricot", Country}, {"fig", Country}, {"banana", Country}, {"orange", Country}, {"nettle", Country},
	{"birch", Country}, {"crab", Country}, {"greengage", Country}, {"mirabelle", Country}, {"haw", Country}, {"bramble", Country},
	{"bullace", Country}, {"fruit", Country}, {"country", Country},
}

// guessKind takes a batch's kind from its name.
func guessKind(es []Entry) Kind {
	name := ""
	for i := range es {
		if e := &es[i]; e.Quantity == QNewBatch || e.Quantity == QName {
			name = strings.ToLower(e.Text)
		}
	}
	for _, w := range kindWords {
		if strings.Contains(name, w.part) {
			return w.kind
		}
	}
	return Other
}
