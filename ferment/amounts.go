package ferment

import (
	"strings"

	"mustbook/ferment/dose"
	"mustbook/ferment/liquid"
)

var unitLitres = map[string]liquid.Litres{
	"L": 1, "mL": 0.001, "US gal": liquid.USGallon, "imp gal": liquid.ImperialGallon,
	"imp pint": liquid.ImperialPint, "US pint": liquid.USPint, "US qt": liquid.USQuart,
	"imp qt": liquid.ImperialQuart, "US fl oz": liquid.USFluidOunce, "imp fl oz": liquid.ImperialFluidOunce,
}

var unitGrams = map[string]liquid.Grams{"g": 1, "kg": 1000, "oz": liquid.Ounce, "lb": liquid.Pound}

// LitresOf returns a volume in litres; false where the unit is none of volume.
func LitresOf(value float64, unit string) (float64, bool) {
	k, ok := unitLitres[unit]
	return value * float64(k), ok
}

// CelsiusOf returns a temperature in °C from a value in unit C or F.
func CelsiusOf(value float64, unit string) float64 {
	if unit == "F" {
		return float64(liquid.FahrenheitToCelsius(value))
	}
	return value
}

// Class is what a material is to the arithmetic.
type Class int

// The classes of material. Unclassed covers what only goes on the list.
const (
	Unclassed Class = iota
	SugarClass
	HoneyClass
	SyrupClass
	JuiceClass
	WaterClass
	WineClass
	FruitClass
	SulphiteClass
	SorbateClass
	AcidClass
	DeacidClass
	NutrientClass
	YeastClass
	FiningClass
	OakClass
)

// classWords find the class of a material by a part of its name; the first that
// matches counts, so the narrower stand before the wider.
var classWords = []struct {
	part  string
	class Class
}{
	{"sorbate", SorbateClass}, {"stabiliser", SorbateClass},
	{"sulphite", SulphiteClass}, {"sulfite", SulphiteClass}, {"metabisul", SulphiteClass},
	{"campden", SulphiteClass}, {"k-meta", SulphiteClass}, {"so2", SulphiteClass},
	{"bicarbonate", DeacidClass}, {"chalk", DeacidClass}, {"carbonate", DeacidClass},
	{"nutrient", NutrientClass}, {"diammonium", NutrientClass}, {"dap", NutrientClass},
	{"yeast", YeastClass}, {"acid", AcidClass}, {"bentonite", FiningClass}, {"fining", FiningClass},
	{"isinglass", FiningClass}, {"gelatin", FiningClass}, {"chitosan", FiningClass},
	{"casein", FiningClass}, {"egg white", FiningClass}, {"skim milk", FiningClass}, {"clay", FiningClass}, {"kieselsol", FiningClass},
	{"oak", OakClass}, {"honey", HoneyClass}, {"juice", JuiceClass}, {"concentrate", JuiceClass},
	{"syrup", SyrupClass}, {"sugar", SugarClass}, {"dextrose", SugarClass}, {"sucrose", SugarClass}, {"glucose", SugarClass},
	{"water", WaterClass}, {"wine", WineClass},
	{"fruit", FruitClass}, {"raisin", FruitClass}, {"sultana", FruitClass}, {"berries", FruitClass},
}

// ClassOf returns what a material is, by its name.
func ClassOf(material string) Class {
	m := strings.ToLower(material)
	for _, w := range classWords {
		if strings.Contains(m, w.part) {
			return w.class
		}
	}
	return Unclassed
}

// Raises reports whether a class of material may raise a gravity.
func (c Class) Raises() bool {
	switch c {
	case SugarClass, HoneyClass, SyrupClass, JuiceClass, FruitClass:
		return true
	}
	return false
}

// powders are the classes that the bench knows by the spoon.
var powders = map[Class]dose.Powder{
	SulphiteClass: dose.PotassiumMetabisulphite, SorbateClass: dose.PotassiumSorbate, FiningClass: dose.Bentonite, SugarClass: dose.TableSugar,
	NutrientClass: dose.Nutrient, AcidClass: dose.TartaricAcid, DeacidClass: dose.PotassiumBicarbonate,
}

// otherSpoons are level teaspoons of what is no powder of the bench, in grams
// (common practice, no source).
var otherSpoons = map[Class]float64{HoneyClass: 7, YeastClass: 3}

// spoonGrams are the grams in a number of level teaspoons, an estimate; 0 where
// nobody can tell.
func spoonGrams(class Class, spoons float64) float64 {
	p, ok := powders[class]
	if !ok {
		return spoons * otherSpoons[class]
	}
	e, err := dose.SpoonGrams(p, spoons, 0)
	if err != nil {
		return 0
	}
	return e.Value
}

// gramsOf returns the grams of an addition and whether they are an estimate; 0
// where they cannot be told. volume is the litres that it goes into, 0 unknown: it
// turns mg/L and g/L into grams, of which those of a sulphite are free SO2.
func gramsOf(e *Entry, class Class, volume float64) (grams float64, estimate bool) {
	value, unit := e.Value, e.Unit
	if k, ok := unitGrams[unit]; ok {
		return value * float64(k), false
	}
	switch {
	case unit == "tsp":
		return spoonGrams(class, value), true
	case unit == "tbsp":
		return spoonGrams(class, value*dose.TablespoonsInTeaspoons), true
	case unit == "tablet" && class == SulphiteClass:
		return value * dose.TabletMilligrams / saltOf(e.Material).SO2() / 1000, true
	case unit == "mg/L" && class == SulphiteClass:
		return value * volume / saltOf(e.Material).SO2() / 1000, false
	case unit == "mg/L":
		return value * volume / 1000, false
	case unit == "g/L":
		return value * volume, false
	}
	return heavyLitres(value, unit, class)
}

// saltOf is the metabisulphite that a sulphite is: the potassium one unless it says
// sodium.
func saltOf(material string) dose.Salt {
	if strings.Contains(strings.ToLower(material), "sodium") {
		return dose.SodiumSalt
	}
	return dose.PotassiumSalt
}

// kilosPerLitre are liquids that are measured by the litre and reckoned by weight:
// honey, and syrup of two parts of sugar and one of water (common practice).
var kilosPerLitre = map[Class]float64{HoneyClass: 1.4, SyrupClass: 1.33}

func heavyLitres(value float64, unit string, class Class) (grams float64, estimate bool) {
	l, ok := LitresOf(value, unit)
	if k := kilosPerLitre[class]; ok && k > 0 {
		return l * k * 1000, true
	}
	return 0, false
}

// syrupSugar is the share of sugar in a syrup of two parts of it and one of water
// (common practice; a label's own figure wins).
const syrupSugar = 2.0 / 3

// juiceGravity is what a juice is taken to have where it goes into a wine unread
// (common practice).
const juiceGravity liquid.Gravity = 1.050

// juiceOf are the sugar and the water in litres of juice.
func juiceOf(litres float64) (liquid.Grams, liquid.Litres) {
	sugar := litres * float64(liquid.Extract(juiceGravity))
	return liquid.Grams(sugar), liquid.Litres((litres*float64(juiceGravity)*liquid.StandardDensityOfWater - sugar) / liquid.StandardDensityOfWater)
}

// sugarIn returns the fermentable sugar and the litres of water that an addition
// brings.
func (a Addition) sugarIn() (sugar liquid.Grams, water liquid.Litres) {
	switch ClassOf(a.Material) {
	case SugarClass:
		return liquid.Grams(a.Grams), 0
	case HoneyClass:
		return liquid.Grams(a.Grams * dose.HoneySugar), liquid.Litres(a.Grams * (1 - dose.HoneySugar) / 1000)
	case SyrupClass:
		return liquid.Grams(a.Grams * syrupSugar), liquid.Litres(a.Grams * (1 - syrupSugar) / 1000)
	case JuiceClass:
		return juiceOf(a.Litres)
	case WaterClass:
		return 0, liquid.Litres(a.Litres)
	}
	return 0, 0
}

// allergenWords name what guests must be told.
var allergenWords = []struct{ part, allergen string }{
	{"egg", "egg"}, {"albumin", "egg"}, {"lysozyme", "egg"}, {"milk", "milk"}, {"casein", "milk"},
	{"isinglass", "fish"}, {"chitosan", "shellfish"}, {"gelatin", "gelatine"}, {"almond", "nuts"},
	{"walnut", "nuts"}, {"wheat", "gluten"}, {"barley", "gluten"},
}

// AllergenOf names the allergen in a material, empty where it has none.
func AllergenOf(material string) string {
	m := strings.ToLower(material)
	for _, w := range allergenWords {
		if strings.Contains(m, w.part) {
			return w.allergen
		}
	}
	return ""
}

// allergensOf lists the allergens of a batch, sulphites always among them: yeast
// alone makes 10–30 mg/L.
func allergensOf(adds []Addition) []string {
	out := []string{"sulphites"}
	seen := map[string]bool{"": true}
	for _, a := range adds {
		if x := AllergenOf(a.Material); !seen[x] {
			seen[x] = true
			out = append(out, x)
		}
	}
	return out
}
