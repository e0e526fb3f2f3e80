package parse

import "strings"

// cry is a cry for help: it is answered if every group has one of its
// beginnings among the words of the text.
type cry struct {
	topic  string
	groups []string // alternatives split by "|"; a blank inside means words in a row
}

var cries = []cry{
	{"safety_swallowed", []string{"swallow|drank|drunk|licked|ingest|ate some|eaten", "sulphit|sulfit|metabi|campden|caustic|bleach|cleaner|sanitis|sanitiz|sorbate|lye|steriliser|sterilizer|chemical|peroxide|cleaning solution|cleaning fluid|cleaning liquid|cleaning powder|cleaning stuff|cleaning agent"}},
	{"safety_sulphite", []string{"sulphit|sulfit|metabi|campden|fumes|dust", "asthma|wheez|can't breathe|cant breathe|cannot breathe|breathed|inhaled|inhaling|coughing|tight chest|lungs|choking|short of breath"}},
	{"safety_cleaner", []string{"bleach|chlorine|hypochlorite|javel", "acid|vinegar|sulphit|sulfit|metabi|ammonia|citric|lemon|mixed|fumes|fuming|gas|eyes|burn|cough|skin|toxic|breathe"}},
	{"safety_cleaner", []string{"ammonia", "mixed|fumes|fuming|eyes|burn|cough|skin|toxic|breathe"}},
	{"safety_cleaner", []string{"caustic|lye|cleaner|cleaning|peracetic|peroxide|steriliser|sterilizer|sanitis|sanitiz|acid|sulphit|sulfit|metabi", "in my eye|in the eye|my eye|eyes|his eye|her eye|on my skin|skin burn|burning skin|splashed|burned my|burnt my|burned his|burnt his|burned her|burnt her|burns my"}},
	{"safety_cleaner", []string{"mixed", "fuming|fumes|toxic|chlorine"}},
	{"safety_bottles", []string{"bottle|cork|demijohn|carboy|glass|jar|flasche|bouteille|botella|bottigli|garrafa|fles|butelk|lahv|flask", "explod|exploding|explosion|detonat|gone off like|went off like|like a bomb|like a grenade|gone bang|went bang|going bang|with a bang|corks flying|flying corks|cork shot|corks shot|shot across|burst|bursting|blew up|has blown|have blown|blew its|blew out|blown up|going off|popping off|blowing up|platz|explos|explot|scoppi|rebent|ontplof|wybuch|vybuch|sprang"}},
	{"safety_bottles", []string{"bottle bomb"}},
	{"safety_bottles", []string{"bottle|cork|flasche|bouteille|botella|bottigli|garrafa|butelk", "gush|like a fountain|like a geyser|geysered|foamed out|hit the ceiling|hits the ceiling|erupted|erupting|sprayed everywhere|sprayed all over"}},
	{"safety_bottles", []string{"bottle|demijohn|carboy|jar|flask", "shattered by itself|shattered on its own|just shattered|shattered in the|shattering"}},
	{"safety_bottles", []string{"fizzy ones|fizzy one|corks", "explod|burst|blew up|blowing up|going off"}},
	{"safety_fire", []string{"on fire|caught fire|flames|it's burning|is burning|smoke from|smoke coming|smoke out of|smoking|feuer|brennt|au feu|fuego|incendio|brand in|pozar|ogien|brinner", "heater|belt|heat|plug|cellar|garage|shed|pump|cable|kitchen|cupboard|still|bucket|keller|cave|bodega|cantina|brew|socket|mat"}},
	{"safety_shock", []string{"electric shock|electrocuted|got a shock|shock from|stromschlag"}},
	{"safety_shock", []string{"got shocked|shocked by the|zapped by|got zapped|was zapped", "heat|mat|heater|pump|belt|plug|socket|cable|wire"}},
	{"safety_cut", []string{"bleeding|blood everywhere|cut my|cut his|cut her|cut myself|sliced my|deep cut|gashed|blutet|saigne|sangra|sanguin|krwawi|krvac|bloder", "hand|finger|arm|wrist|glass|carboy|demijohn|jar|bottle|badly|leg|foot|artery|stark|beaucoup|mucho|myself|thumb|palm"}},
	{"safety_gas", []string{"dizzy|faint|fainted|fainting|passed out|passing out|collapsed|unconscious|light headed|lightheaded|light-headed|blacked out|can't breathe|cant breathe|cannot breathe|keeled over|woozy|not breathing|suffocat|schwindelig|schwindlig|schwindlich|ohnmacht|szedul|elajult|bewusstlos|vertige|evanoui|mareado|mareada|desmay|svenut|gira la testa|tontura|duizelig|flauwgevallen|zaslabl|zawroty|omdlel|toci se mi|yr i|svimmade|svimning|etourdi|tombe a genoux|fait un malaise|tete me tourne|tete qui tourne|headache", "cellar|vat|must|ferment|tank|garage|wine|fruit press|basement|barrel|bucket|shed|carboy|gas|co2|room|press|stirring|keller|cave|cuve|bodega|cantina|tino|adega|kelder|vat|piwnic|sklep|kallar|dad|mum|mom|he|she|i|we|someone|somebody|me|vati|papa"}},
	{"safety_gas", []string{"candle|kerze|bougie|vela|candela|kaars|swieca|swiec|svicka|stearinljus|gyertya|lighter|match|flame", "goes out|went out|gone out|going out|go out|won't stay lit|wont stay lit|won't light|wont light|won't burn|wont burn|goes off|went off|dies|died|ausgegangen|geht aus|ausgeht|s'eteint|eteint|apag|si spegne|spent|gaat uit|ging uit|gasnie|zgasl|zhas|slockn|elalud|elalsz",
		"cellar|celar|basement|keller|cave|bodega|cantina|adega|kelder|piwnic|sklep|kallar|pince|vat|ferment"}},
	{"safety_cut", []string{"glass", "stuck in my|stuck in his|stuck in her|in my foot|in my hand|in his hand|in her hand|in his foot|in her foot"}},
	{"safety_pet", []string{"dog|dogs|puppy|puppies|cat|cats|kitten|ferret|hund|katze|chien|perro|gato|cane|gatto|hond|pies|kot|hunden", "ate|eaten|eating|eats|drank|drunk|lapped|licked|got into|got at|been at|gobbled|swallowed|scoffed|gefressen|mange|comido|mangiato|opgegeten|zjadl",
		"pulp|grape|raisin|sultana|currants|skins|pomace|lees|yeast|the must|wine|mead|cider|fermenting|fruit bag|plum stones|sulphit|sulfit|campden|metabi|sorbate|trester|marc|orujo|vinaccia"}},
	{"safety_cut", []string{"artery|spurting", "cut|bleed|blood"}},
	{"safety_gas", []string{"isn't moving|isnt moving|not moving|doesn't move|unresponsive|won't wake|wont wake|will not wake|doesn't answer|doesnt answer|does not answer|isn't answering|not answering|doesn't respond|not responding|don't answer|dont answer|dosent answer|doesnt wake|fell down in|fel down in|fallen down in|keeled over", "tank|vat|cellar|celar|celler|fermenter|pit|basement|basment", "he|she|dad|mum|mom|gran|grandma|granny|grandad|grandpa|uncle|aunt|him|her|someone|somebody|they|wife|husband|son|daughter|brother|sister|is lying|and does|and is|friend|neighbour|neighbor"}},
	{"safety_gas", []string{"is lying|are lying|he's lying|she's lying|lying there|lies on the|he's on the|she's on the|he is on the|she is on the|dad is on the|mum is on the|mom is on the|gran is on the|someone is on the|somebody is on the|wife is on the|husband is on the|slumped", "floor|ground|face down", "tank|vat|cellar|fermenter|pit|basement", "he|she|dad|mum|mom|gran|grandma|granny|grandad|grandpa|uncle|aunt|someone|somebody|wife|husband|son|daughter|brother|sister|friend|neighbour|neighbor|a man|a woman|a child"}},
	{"safety_gas", []string{"panting|gasping|hardly stand|can't stand|cant stand|legs gave way|legs went|head is spinning|head's spinning|room is spinning|seeing stars|short of breath|out of breath|wobbly|confused|nauseous", "punching|punched|stirring|degassing|vat|tank|cellar|fermenting|ferment|press room|winery|the must|barrel"}},
	{"safety_gas", []string{"feel dizzy|feeling dizzy|so dizzy|feel faint|feeling faint|very dizzy|i'm dizzy|im dizzy|i am dizzy|felt dizzy"}},
	{"safety_gas", []string{"head's swimming|heads swimming|head is swimming|head swimming|head swims|giddy|queasy|feel sick|feeling sick|felt sick|feel funny|feeling funny|feel strange|feel weird|feel odd|feel ill|feeling ill|legs like jelly|legs are jelly|pounding head|head pounding|head is pounding|blurry|blurred|went black|about to pass out|nearly passed out|almost passed out|gone faint|came over faint|can't catch my breath|cant catch my breath|swaying", "vat|tank|cellar|ferment|bucket|buckets|bubbling|pantry|basement|stirring|punching|punched|degassing|winery|press room|the must|co2|down there|demijohns|carboys|barrel|tun"}},
	{"safety_fire", []string{"fire in the|there's a fire|there is a fire|fire help|help fire|help, fire|help! fire", "cellar|garage|shed|kitchen|basement|cupboard|brew"}},
	{"safety_gas", []string{"co2|carbon dioxide|fermentation gas", "cellar|room|breath|headache|alarm|panting|poison|help"}},
}

// crySplit are the alternatives of the cries, taken apart once: every message is
// searched for all of them.
var crySplit = func() [][][]string {
	out := make([][][]string, len(cries))
	for i := range cries {
		for _, g := range cries[i].groups {
			out[i] = append(out[i], strings.Split(g, "|"))
		}
	}
	return out
}()

// hasOne is hasAnyOf for alternatives that were taken apart.
func hasOne(f string, starts uint32, alternatives []string) bool {
	for _, a := range alternatives {
		if hasWordBegin(f, starts, a) {
			return true
		}
	}
	return false
}

// danger recognises a cry for help anywhere in the text, whoever sends it.
// It runs before everything else and on the folded text alone, so that no
// slip of the grammar can stand between a cry and its answer. It would
// rather answer once too often; a group is told the text once, that is
// all.
func (r *reader) danger() string {
	f := fold(r.text)
	starts := wordStarts(f)
	for i, c := range cries {
		ok := true
		for _, g := range crySplit[i] {
			if ok = hasOne(f, starts, g); !ok {
				break
			}
		}
		if ok && !(c.topic == "safety_gas" && strings.Contains(c.groups[0], "headache") && strings.Contains(f, "headache") && !r.gasHeadache(f)) {
			return c.topic
		}
	}
	if starts&(1<<('g'-'a')) != 0 && hasWordBegin(f, starts, "gush") && r.namesBottled() {
		return "safety_bottles" // "the cider gushed": the rest of the bottles are as full of gas
	}
	return ""
}

// namesBottled reports the name of a batch that is in bottles.
func (r *reader) namesBottled() bool {
	for i := range r.items {
		if b := r.items[i].batch; b > 0 && r.ctx.Batches[b-1].bottled() {
			return true
		}
	}
	return false
}

// gasHeadache: a headache alone is gas only where the place says so. A
// headache with a cellar in the sentence is taken seriously; one with
// homework is not.
func (r *reader) gasHeadache(f string) bool {
	return hasAny(f, "dizzy|faint|collapsed|unconscious|passed out|panting|gasping|hardly stand|can't stand|cant stand|out of breath|short of breath") || hasAny(f, "cellar|vat|ferment|tank|co2|stirring|basement|punching|degassing|press room|winery")
}

// hasAny reports one of the alternatives at the beginning of a word of f.
// Alternatives of up to three letters must be whole words: "he" is not
// "here", "am" not "amount".
func hasAny(f, alternatives string) bool { return hasAnyOf(f, wordStarts(f), alternatives) }

// wordStarts marks the letters with which the words of f begin: most
// alternatives are ruled out by their first.
func wordStarts(f string) (starts uint32) {
	for i := range len(f) {
		if c := f[i]; c >= 'a' && c <= 'z' && (i == 0 || !letter(f[i-1])) {
			starts |= 1 << (c - 'a')
		}
	}
	return starts
}

// hasAnyOf is hasAny for a text of which the first letters are known.
func hasAnyOf(f string, starts uint32, alternatives string) bool {
	for len(alternatives) > 0 {
		a := alternatives
		if i := strings.IndexByte(alternatives, '|'); i >= 0 {
			a, alternatives = alternatives[:i], alternatives[i+1:]
		} else {
			alternatives = ""
		}
		if hasWordBegin(f, starts, a) {
			return true
		}
	}
	return false
}

// hasWordBegin looks for one alternative.
func hasWordBegin(f string, starts uint32, a string) bool {
	if c := a[0]; c >= 'a' && c <= 'z' && starts&(1<<(c-'a')) == 0 {
		return false
	}
	whole := len(a) <= 3
	for from := 0; ; {
		i := strings.Index(f[from:], a)
		if i < 0 {
			return false
		}
		i += from
		end := i + len(a)
		if (i == 0 || !letter(f[i-1]) || !letter(a[0])) && (!whole || end == len(f) || !letter(f[end])) {
			return true
		}
		from = i + 1
	}
}

// letter counts every byte of a letter outside ASCII as one too.
func letter(c byte) bool { return c >= 'a' && c <= 'z' || c >= 0x80 }
