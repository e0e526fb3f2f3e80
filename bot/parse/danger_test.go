package parse

import "testing"

// Cries for help of our own invention, each kind in at least five phrasings: they are
// heard in private and in a group, with batches and without, from members and strangers.
var cryTexts = map[string][]string{
	TopicSafetyGas: {"I feel dizzy in the cellar", "dad has collapsed by the vat", "she fainted while stirring the must", "he is lying unconscious in the fermentation room",
		"we all have a headache in the cellar and I'm panting", "my wife passed out in the cellar", "help, he went down into the tank and isn't moving", "can't breathe in the cellar",
		"feeling light headed next to the fermenters", "co2 alarm is going off in the basement", "my dad went down to the cellar and is lying on the floor",
		"someone is lying on the cellar floor", "tom is lying in the cellar and does not answer", "gran is on the floor of the cellar", "1.050 at 21c and I feel dizzy"},
	TopicSafetyCleaner: {"I mixed bleach and vinegar", "bleach and acid, it's fuming", "caustic soda splashed in my eye", "got steriliser in my eyes", "mixed the cleaners and now there are fumes",
		"peracetic acid in his eye", "chlorine smell, coughing, I mixed bleach with citric acid", "poured bleach on sulphite and it stinks", "oven cleaner burned my hand", "ammonia fumes, my eyes burn"},
	TopicSafetyBottles: {"the bottles are exploding", "a bottle just burst in the cupboard", "bottles going off like bombs", "demijohn exploded", "two corks popped off and a bottle blew up",
		"bottle bombs in the garage!", "the fizzy ones are blowing up", "my cider bottle just shattered by itself"},
	TopicSafetySwallow: {"my son drank the sanitiser", "the toddler swallowed a campden tablet", "I drank sulphite solution by mistake", "she ate some metabisulphite", "swallowed bleach",
		"he drank the cleaning solution", "my daughter has eaten potassium sorbate powder"},
	TopicSafetySulphite: {"breathed in sulphite and can't stop coughing", "sulphite fumes set off my asthma", "I'm wheezing from the metabisulphite dust", "inhaled campden powder, tight chest",
		"choking on sulphite fumes", "short of breath from the sulphite", "metabisulphite dust in my lungs"},
	TopicSafetyCut: {"I cut my hand on the carboy", "bleeding badly, the demijohn broke", "the jar broke and sliced my wrist", "deep cut from the glass, blood everywhere", "cut his arm on a bottle",
		"glass stuck in my foot", "artery cut on the carboy, spurting"},
	TopicSafetyShock: {"got an electric shock from the heating belt", "he was electrocuted by the pump", "tom got a shock from the heater", "I got zapped by the heat mat", "shock from the brew belt",
		"he touched the pump and got shocked"},
	TopicSafetyPet: {"the dog ate the pulp", "our cat licked the lees", "dog got into the fruit bag and ate the grapes", "puppy has eaten raisins from the wine", "the dog drank the cider off the floor",
		"der Hund hat den Trester gefressen"},
	TopicSafetyFire: {"the heater is on fire", "fire in the garage", "the brew belt caught fire", "there's a fire in the cellar", "smoke coming from the heat mat", "the shed is burning",
		"plug is smoking", "help fire kitchen"},
}

func TestCriesForHelp(t *testing.T) {
	group := contexts()["group"]
	for topic, texts := range cryTexts {
		if len(texts) < 5 {
			t.Errorf("%s: %d phrasings", topic, len(texts))
		}
		for _, text := range texts {
			for name, ctx := range map[string]Context{"private": contexts()["gorse"], "group": group, "stranger": {Group: true}, "forwarded": {Forwarded: true}} {
				if in := Message(text, ctx); in.Kind != Question || in.Topic != topic || len(in.Entries) > 0 {
					t.Errorf("%s, %q: %s %q, %d entries", name, text, in.Kind, in.Topic, len(in.Entries))
				}
			}
		}
	}
}

// What sounds like a cry and is none must not be answered with the emergency number: a
// text that cries wolf is read no more.
func TestNearCries(t *testing.T) {
	for _, text := range []string{"the must is on fire, 20 points a day", "it went off like a rocket, foaming", "the wine smells of bleach", "rinsed with bleach yesterday",
		"cleaned the bucket with bleach", "I have a headache from last night's wine", "drank a bottle of the damson, lovely", "cut the sugar to half", "this wine blew up in flavour",
		"the fermentation exploded overnight, foam everywhere", "bottled the elder, corks in", "killing time in the cellar", "shocked how good it is", "the yeast got a temperature shock",
		"add sulphite 2 g", "the sulphite smell is strong", "she swallowed her pride and used the kit", "burnt rubber smell", "campfire tonight with the mead", "smoked the pears first",
		"passed out the glasses at the party", "bleeding obvious it is stuck", "lots of gas coming out", "hot as hell in the garage, 31c", "cut the labels", "degassed, lots of gas",
		"dizzy heights of 14 %", "how much co2 does it make", "gas now", "the airlock isn't moving", "foam spurting out of the carboy", "glass of elder was great", "drank it while cleaning up",
		"he left the crate in the cellar, it is on the floor", "the bottles are lying on the cellar floor", "gran is in the cellar, the cat is on the floor",
		"the dog ate my shoe", "walked the dog, drank a coffee", "fed the pulp to the hens", "the cat knocked the airlock off", "dog tired, racked the wine", "hot dogs and wine tonight", "catch up over wine"} {
		for name, ctx := range map[string]Context{"private": contexts()["gorse"], "stranger": {Group: true}} {
			if in := Message(text, ctx); len(in.Topic) > 7 && in.Topic[:7] == "safety_" {
				t.Errorf("%s, %q was taken for %s", name, text, in.Topic)
			}
		}
	}
}
