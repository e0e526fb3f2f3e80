package parse

import "strings"

// reminderWords are what a household calls a reminder, by its id. A longer
// name goes before a shorter one that it begins with.
var reminderWords = []struct{ rule, words string }{
	{"R01", "pitching|pitch|sulphite wait|wait over"},
	{"R02", "start gravity"},
	{"R03", "start check|start checks|first check"},
	{"R04", "second check|second start check"},
	{"R06", "stirring|stir|punching down|punch down|punching"},
	{"R07", "primary readings|primary reading|readings|reading"},
	{"R08a", "nutrient steps|nutrients|nutrient"},
	{"R08b", "sugar steps|honey steps"},
	{"R09", "primary check|primary checks"},
	{"R10", "ready to rack"},
	{"R11", "straining|strain|pressing|press"},
	{"R12a", "heat|hot must|hot"},
	{"R13", "heat wave|heatwave|hot spell"},
	{"R16", "secondary readings|secondary reading|weekly reading|weekly readings"},
	{"R17", "second reading|second readings"},
	{"R18", "closing reading|closing readings"},
	{"R19", "stabilising|stabilise"},
	{"R20", "second substance"},
	{"R21", "degassing|degas"},
	{"R22", "second finings|second fining"},
	{"R23", "clear check|finings|clearing"},
	{"R24", "malolactic tests|malolactic test|malolactic|mlf"},
	{"R26", "racking again|rack again|second racking|racking|rackings"},
	{"R27", "topping up|top up|top ups|headspace"},
	{"R28", "airlocks|airlock looks|airlock look|airlock"},
	{"R29", "so2 tests|so2 test|sulphite tests|sulphite test|so2"},
	{"R30", "ph"},
	{"R31", "cold"},
	{"R32", "after sweetening|sweetening"},
	{"R33", "after blending|blending"},
	{"R34", "bottling day|bottling list|bottling"},
	{"R35", "not safe|danger|bottle bombs"},
	{"R36", "laying down|lay down"},
	{"R37", "bottle looks|bottle look|early warning|fizz look"},
	{"R38", "labels|label|labelling"},
	{"R39", "first tasting|first tastings|tasting|tastings|first look|tasting notes"},
	{"R40", "best time|best before|at its best"},
	{"R41", "silent batches|silent batch|silence"},
	{"R44", "guests|allergens"},
	{"R45", "ventilation|airing"},
	{"R46", "year total|year limit"},
	{"R47", "hydrometer checks|hydrometer check|water test|instrument checks|instrument check|instruments"},
	{"R48", "tubs|tub|chemicals"},
	{"R49", "oak"},
	{"R51", "restart check"},
	{"weekly", "weekly round-up|weekly roundup|round-up|roundup|weekly"},
}

// reminderNamed is the reminder whose name a folded text begins with, and how
// many bytes the name takes; 0: none.
func reminderNamed(f string) (rule string, n int) {
	if f == "" {
		return "", 0
	}
	for _, w := range reminderForms[f[0]] {
		if a := w.form; len(a) > n && strings.HasPrefix(f, a) && (len(f) == len(a) || !letter(f[len(a)]) && !isDigit(f[len(a)])) {
			rule, n = w.rule, len(a)
		}
	}
	return rule, n
}

// reminderForms are the single names of reminderWords by their first letter: they are
// looked up for every message.
var reminderForms = func() (by [256][]struct{ rule, form string }) {
	for _, w := range reminderWords {
		for _, a := range strings.Split(w.words, "|") {
			by[a[0]] = append(by[a[0]], struct{ rule, form string }{w.rule, a})
		}
	}
	return by
}()

// flagWords are what is said once of a batch or the house, and then nobody asks
// for it again.
var flagWords = []struct{ flag, words string }{
	{"no hydrometer", "no hydrometer|i have no hydrometer|we have no hydrometer|no hydrometer here"},
	{"no meter", "no meter|no ph meter|i have no ph meter|we have no ph meter"},
	{"no so2 kit", "no so2 kit|no so2 test|we have no so2 kit|i have no so2 kit"},
	{"no labels", "no labels|no labels needed|we don't label"},
	{"airy", "airy|airy room|large airy room|the room is airy|the cellar is airy|it is airy|it's airy"},
	{"outdoors", "outdoors|stands outdoors|it stands outdoors|is outdoors|it's outdoors"},
	{"ages on lees", "ages on lees|ages on its lees|ageing on lees|sur lie|leave it on the lees"},
	{"no lees", "no lees|there are no lees"},
	{"by the sheet", "by the sheet|go by the sheet|by the kit's sheet|by the kit sheet"},
	{"no sorbate", "sulphite only|sulfite only|no sorbate|without sorbate"},
}

// flagNamed is the flag that a folded text is, "" for none.
func flagNamed(f string) string {
	return flagForms[f]
}

// flagForms are the flags by each of their forms.
var flagForms = func() map[string]string {
	by := map[string]string{}
	for _, w := range flagWords {
		for _, a := range strings.Split(w.words, "|") {
			if by[a] == "" {
				by[a] = w.flag
			}
		}
	}
	return by
}()

// What changes the reminders is told with these words: those that end in Set begin such a
// text, the others are looked for in it.
var (
	bundleSet    = anyOf("bundle|reminders at|set reminders|set the reminders|set my reminders|send reminders|send the reminders|move the reminders|move reminders|daily bundle|the bundle|daily message|the daily message|daily summary|the daily summary|morning summary|evening summary|daily digest|daily report")
	roundUpNamed = anyOf("round-up|roundup|round up")
	urgentNamed  = anyOf("urgent")
	stirSet      = anyOf("stir hours|stirring hours|stir at|stir times")
	minorsNamed  = anyOf("minors|children|kids")
	heatSet      = anyOf("heat wave|heatwave|heat-wave|hot spell|hot weather|very hot here|it's very hot here")
	stepsNamed   = anyOf("step|steps|stages|portions")
	stepsSet     = anyOf("sugar|honey|nutrient|nutrients|no nutrient|no sugar|no honey|yeast nutrient")
	awaySet      = anyOf("away|on holiday|going away|we are away|we're away|i am away|i'm away|holiday")
	stopSet      = anyOf("no|stop|no more")
	offNamed     = anyOf("off|no|not|never|without|stop|don't")
	everyWords   = anyOf("every|after|each")
	pmWord       = anyOf("pm")
	openedNamed  = anyOf("opened|open")
)
