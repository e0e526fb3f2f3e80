package parse

import (
	"strings"
	"sync"
)

// pairing is a danger as a pair: what happened, and where or to what. Every group of the
// pair must be heard within near words; a group behind "!" must not be heard at all.
type pairing struct {
	topic string
	near  int
	pair  string
}

// The nearness of what belongs together: in a clause, in a short message.
const inClause, inMessage = 12, 40

// pairings are tried in the order of what harms first: where a message tells two
// dangers, the first of them is answered.
var pairings = []pairing{
	{TopicSafetyPet, inClause, "animal eat petfood !kid"},
	{TopicSafetySwallow, inClause, "swallow sulph|caustic|cleaner|bleach|ammonia|fromstem"},
	{TopicSafetySwallow, inClause, "swallow kid stones|glassbit|additive|badpot"},
	{TopicSafetySwallow, inClause, "swallow glassbit"},
	{TopicSafetySwallow, inClause, "swallow small drink"},
	{TopicSafetySwallow, inClause, "swallow kid drink accident"},
	{TopicSafetyCleaner, inMessage, "bleach|ammonia lung|breath|noair|eyehit|skinhit|sign"},
	{TopicSafetyCleaner, inMessage, "bleach|ammonia acid|sulph|ammonia2 mix"},
	{TopicSafetyCleaner, inMessage, "bleach|ammonia acid|sulph|ammonia2 fume"},
	{TopicSafetyCleaner, inClause, "bleach|ammonia fume2"},
	{TopicSafetyCleaner, inClause, "bleach|ammonia cleaner|caustic fume"},
	{TopicSafetyCleaner, inClause, "eyeburn scrub"},
	{TopicSafetySulphite, inClause, "sulph acid fume3 !bleach"},
	{TopicSafetyCleaner, inMessage, "mixed fume2|lung|breath cleaner|caustic|acid|bleach"},
	{TopicSafetyCleaner, inClause, "cleaner|caustic lung|breath|noair"},
	{TopicSafetyCleaner, inClause, "caustic|cleaner|acid|sulph eyehit !elsewhere"},
	{TopicSafetyCleaner, inClause, "caustic|cleaner skinhit"},
	{TopicSafetySulphite, inClause, "sulph lung|breath|noair|lips"},
	{TopicSafetySulphite, inClause, "attack"},
	{TopicSafetyBurn, inClause, "hot burnt"},
	{TopicSafetyGlass, inClause, "stem broke inwine !cut"},
	{TopicSafetyPressure, inClause, "airlock blocked"},
	{TopicSafetyBottles, inClause, "vessel burst"},
	{TopicSafetyBottles, inClause, "corkw swell"},
	{TopicSafetyBottles, inClause, "corkonly corkmove"},
	{TopicSafetyPressure, inClause, "lidw bulge"},
	{TopicSafetyPressure, inClause, "sealed goingon lidw"},
	{TopicSafetyPressure, inClause, "sealed bulge"},
	{TopicSafetyPressure, inClause, "sealed forgotlock lidw"},
	{TopicSafetyFire, inClause, "fire firething"},
	{TopicSafetyFire, inClause, "firecry fireplace"},
	{TopicSafetyShock, inMessage, "zap"},
	{TopicSafetyShock, inClause, "shock electric"},
	{TopicSafetyShock, inClause, "electric wet live"},
	{TopicSafetyCut, inClause, "cut body"},
	{TopicSafetyCut, inClause, "cut glasscut"},
	{TopicSafetyCut, inClause, "gore !elsewhere"},
	{TopicSafetySwallow, inClause, "swallow stem broke"},
	{TopicSafetyCut, inClause, "glasscut|glassbit stuckin"},
	{TopicSafetyGlass, inClause, "glassbit inwine"},
	{TopicSafetyGlass, inClause, "glasspot broke inwine"},
	{TopicSafetyMethanol, inMessage, "sightless afterdrink"},
	{TopicSafetyGas, inMessage, "sign|breath|noair|lifeless place|low|work|gasw"},
	{TopicSafetyGas, inMessage, "prone still place|low|work|gasw"},
	{TopicSafetyGas, inMessage, "foundman place|low|work|gasw"},
	{TopicSafetyGas, inMessage, "down person|animal place|low|work|gasw"},
	{TopicSafetyGas, inMessage, "weak place|low|gasw !elsewhere"},
	{TopicSafetyGas, inClause, "weak work !elsewhere"},
	{TopicSafetyGas, inMessage, "flame goesout place|low|gasw|work"},
	{TopicSafetyGas, inMessage, "gasw|gas alarm"},
	{TopicSafetyGas, inMessage, "sleepin work|gasw potask"},
	{TopicSafetyGas, inMessage, "swoon !elsewhere"},
	{TopicSafetyGas, inMessage, "lifeless|noair !elsewhere"},
	{TopicSafetyGas, inClause, "person sign !elsewhere"},
	{TopicSafetyVessel, inClause, "badpot potwork potask"},
	{TopicSafetyMethanol, inMessage, "methanol"},
}

// alarmRule is a pairing with its senses looked up.
type alarmRule struct {
	topic  string
	near   int
	groups []senseSet
	not    senseSet
}

var alarmRules = sync.OnceValue(func() []alarmRule {
	var out []alarmRule
	for _, p := range pairings {
		r := alarmRule{topic: p.topic, near: p.near}
		for g := range strings.FieldsSeq(p.pair) {
			if not, ok := strings.CutPrefix(g, "!"); ok {
				r.not.add(alarms().sense(not))
			} else {
				r.groups = append(r.groups, alarms().sense(g))
			}
		}
		out = append(out, r)
	}
	return out
})

// danger recognises a cry for help anywhere in the text, whoever sends it. It runs
// before everything else and on the folded text alone, so that no slip of the grammar
// can stand between a cry and its answer. It would rather answer once too often; a
// group is told the text once, that is all.
func (r *reader) danger() string {
	var buf [48]heardAt
	heard := alarms().hear(r.folded, r.names, buf[:0])
	if len(heard) == 0 {
		return ""
	}
	var whole senseSet
	for _, h := range heard {
		whole.add(h.sense)
	}
	rules := alarmRules()
	for i := range rules {
		if rule := &rules[i]; rule.possible(whole) && rule.heard(heard) {
			return rule.topic
		}
	}
	if r.namesBottled() && whole.meets(alarms().sense("swell")) {
		return TopicSafetyBottles // "the cider gushed": the rest of the bottles are as full of gas
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

// possible reports that the text has all the senses of the rule, near or far.
func (a *alarmRule) possible(whole senseSet) bool {
	for _, g := range a.groups {
		if !whole.meets(g) {
			return false
		}
	}
	return !whole.meets(a.not)
}

// heard reports that all groups of the rule stand near each other.
func (a *alarmRule) heard(heard []heardAt) bool {
	var last [4]int
	for g := range a.groups {
		last[g] = -1 << 30
	}
	for _, h := range heard {
		hit, all := false, true
		for g, s := range a.groups {
			if h.sense.meets(s) {
				last[g], hit = h.at, true
			}
			all = all && h.at-last[g] <= a.near
		}
		if hit && all {
			return true
		}
	}
	return false
}
