package parse

import (
	"strings"
	"testing"
)

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
		"the dog ate my shoe", "walked the dog, drank a coffee", "fed the pulp to the hens", "the cat knocked the airlock off", "dog tired, racked the wine", "hot dogs and wine tonight", "catch up over wine",
		"the bottles are in the garage, 24 of them", "corks and caps bought", "racked into glass, it's under airlock", "sanitised the bottles with campden",
		"bleached the tea towels", "added acid and sulphite to the damson", "put the yeast in, stirred, lid on", "still bubbling, lid on loosely",
		"my eye appointment is at 3", "dad went to the cellar to fetch wine", "he went down to the cellar an hour ago", "the kids helped punch down, great fun",
		"dog walked past the wine", "the cat is asleep on the fermenter", "drank the last bottle of sulphite wine", "opened a bottle, bit fizzy",
		"hissed when opened, lovely fizz", "the sparkling one popped nicely", "the cork popped and we drank to gran", "pressure cooker on",
		"hot water bottle please", "burned the midnight oil, sorry", "the cellar light went out", "the light in the cellar goes out",
		"new heater for the shed arrived", "plug in the heater please", "extension lead in the garage", "smoke alarm battery",
		"cellar door is lying open", "fruit is lying on the floor of the garage", "is the airlock meant to move", "the hydrometer fell in the must, fished it out",
		"sweating in this heat, garage 31", "tired after pressing all day", "sick and tired of waiting", "the demijohn is heavy, back hurts",
		"glass bits and bobs to the tip", "wine glass broke at the party", "my finger is in the plaster, can someone rack", "cut the grapes this morning",
		"cut my hours at work", "copper beech in the garden is lovely", "zinc roof on the shed", "alu foil please",
		"boiled the syrup, cooling now", "syrup poured over the fruit", "poured boiling water on the sloes", "boiling water over the rhubarb",
		"scalded the milk", "vinegar smell in the plum", "smells of bleach the damson", "sulphite smell is strong",
		"used bleach to clean the bucket, rinsed well", "which is better bleach or campden", "pulp in the compost, keep the dog off", "wine for the dog walkers",
		"everybody down with flu, nobody pressing", "gran is not well, see you sunday", "the fair was fun, dizzying rides", "confused which batch is which",
		"caps and corks ordered", "flying to spain tomorrow, wine can wait", "something in my eye watching that film", "got grit in my eye from the wind",
		"she had a glass of the damson and loved it", "grandson had some wine gums", "kids ate the wine gums", "gave the boys a drink after picking",
		"the boys helped, then drank cordial", "sleeping in tomorrow, bottling sunday", "baby asleep, racking quietly", "is it safe to rack now",
		"is it bad to leave it on the lees", "is it dangerous to rack too early", "bad bottle, tasted of vinegar", "vinegar in the salad, bleach for the sink",
		"dropped a bottle, what a mess", "bottle broke on the stairs, cleaning up", "broke a demijohn, lost the plum", "the damson is on its way to vinegar",
		"the lid is on the bucket", "lid doesn't fit the bucket", "bung too small for the demijohn", "airlock dry, topped it up",
		"airlock full of foam, cleaned it", "blocked siphon, grapes everywhere", "blocked drain in the kitchen", "stuck cork",
		"cork broke in the bottle", "cork crumbled into the wine", "pushed the cork into the bottle", "hot water for the kettle, tea anyone",
		"the kettle is in the garage", "pump is in the bucket", "fridge broke, wine in the garage", "light bulb gone in the cellar",
		"dad is in the cellar, phone on silent", "mum says the cellar is cold", "he is out of breath after carrying the demijohn", "tom fell over the bucket, fine",
		"knocked over the barrel, all fine", "someone left the cellar light on", "cut the power to the shed for the electrician", "shock treatment for the yeast",
		"temperature shock, yeast asleep", "the cat sat on the fermenter, lovely photo", "dog had the sausages while we racked the wine", "the horse ate the apples",
		"the rabbit ate my lettuce", "hop shoots coming up in the garden", "raisins 500 g bought", "swallowed the bill for the corks",
		"drinking the plum tonight", "we drank the must before it fermented, delicious", "kids love the apple juice", "drank a pint, chemicals in that beer i bet",
		"this tastes of chemicals", "zinc bucket for the garden flowers", "aluminium foil over the jar", "ferment in the garage ok?",
		"metal taste, odd"} {
		for name, ctx := range map[string]Context{"private": contexts()["gorse"], "stranger": {Group: true}} {
			if in := Message(text, ctx); len(in.Topic) > 7 && in.Topic[:7] == "safety_" {
				t.Errorf("%s, %q was taken for %s", name, text, in.Topic)
			}
		}
	}
}

// Every sense that a pair names has words, and every sense of another language is one of
// the pairs': a slip in a name would leave a danger unheard without a sound.
func TestSensesOfDanger(t *testing.T) {
	filed := map[string]map[string]bool{}
	files, err := dangerFiles.ReadDir("danger")
	if err != nil || len(files) != 11 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, f := range files {
		data, err := dangerFiles.ReadFile("danger/" + f.Name())
		if err != nil {
			t.Fatal(err)
		}
		for _, line := range strings.Split(string(data), "\n") {
			sense, forms, ok := strings.Cut(line, ": ")
			if !ok || line[0] == '#' {
				continue
			}
			if filed[sense] == nil {
				filed[sense] = map[string]bool{}
			}
			if filed[sense][f.Name()] {
				t.Errorf("%s: %s has two lines", f.Name(), sense)
			}
			filed[sense][f.Name()] = true
			for _, form := range strings.Split(forms, ";") {
				if strings.TrimSpace(form) == "" {
					t.Errorf("%s: %s has an empty form", f.Name(), sense)
				}
			}
		}
	}
	for _, p := range pairings {
		for _, sense := range strings.FieldsFunc(p.pair, func(c rune) bool { return strings.ContainsRune(" |!", c) }) {
			if !filed[sense]["en.txt"] {
				t.Errorf("%s: nothing is filed under %q", p.topic, sense)
			}
		}
	}
	for sense, in := range filed {
		if !in["en.txt"] {
			t.Errorf("%q is filed in %v and not in English", sense, in)
		}
	}
}
