package advice

import "mudline/internal/reading"

// Cautions are what to mind with jars and soil, and what a jar reading cannot
// stand in for. They hold for every reading: show them once.
func Cautions() []reading.Statement {
	return []reading.Statement{
		say("glass", practice, "A quart jar of mud weighs 1.2 to 1.4 kg: shake it with both hands, lid tight, over a tray, and give children a plastic one. Put no hot water into cold glass, and nothing that fizzes into a closed jar."),
		say("detergent", practice, "Dishwasher powder stings eyes and throat: do not breathe it, keep it from children and pets, and rinse your hands."),
		say("tetanus", "CIPHE, Advice for Gardeners", "Wear gloves and wash cuts at once, since tetanus lives in soil. Keep the vaccination in date: a doctor knows when a booster is due."),
		say("legionella", "WA Health, Legionella and garden soils; CIPHE, Advice for Gardeners", "Compost, potting mix and soil can carry Legionella, which is breathed in or comes from hand to mouth. Keep them damp, keep your face away from an opened bag, and wash your hands. See a doctor if a cough with fever follows within ten days."),
		say("dust", practice, "Crush and sieve dry soil out of doors, a little damp, or wear a mask."),
		say("lead", "US EPA residential soil lead guidance, January 2024", "Texture says nothing of pollution. In towns, by old painted walls, roads and industry, have lead tested before you grow food: the US screening level for homes was halved to 200 ppm in 2024. Ask which limit holds where you are."),
		say("waste", practice, "Let the jar settle, pour the clear water on soil and return the mud to the garden: never down a sink, a storm drain or a septic system."),
		say("smell", practice, "If a sample smells of fuel, put it down and do not handle it further."),
		say("limits", practice, "A jar reading is not a laboratory analysis. Septic fields and soakaways (percolation), foundations and basements, slopes, retaining walls and excavations, and contaminated land are for local codes and licensed practice; so are sales and disputes."),
	}
}
