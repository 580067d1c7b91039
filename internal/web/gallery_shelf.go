package web

import (
	"html/template"
	"time"

	"fettler/internal/casework"
	"fettler/internal/label"
	"fettler/internal/partdesk"
	"fettler/internal/shelf"
)

// shelfScreens are the shelf and what to buy, with invented data.
func (s *Server) shelfScreens() []screen {
	base := func(b Base, title, here string) ShelfBase {
		b.Title, b.Section = title, "parts"
		return s.shelfBaseInto(b, here)
	}
	full := func(b Base) *shelfPage {
		return &shelfPage{ShelfBase: base(b, "The shelf", "/shelf"), P: galleryShelf(), Kinds: partdesk.Kinds(), Origins: casework.PartOrigins(), Labels: "/shelf/labels?what=parts"}
	}
	return []screen{
		{"shelf", "parts at hand", "shelf", func(b Base) any {
			p := full(b)
			p.Done, p.Undo, p.P.Pages, p.P.Total, p.After = "used 1 × push-button", 12, 3, 131, "/gallery/shelf"
			return p
		}},
		{"shelf-empty", "nothing on the shelf yet", "shelf", func(b Base) any {
			p := full(b)
			p.P = &shelf.List{Page: 1, Pages: 1}
			return p
		}},
		{"shelf-error", "what was entered does not fit", "shelf", func(b Base) any {
			pr := explain(refusal("-3 is no number of pieces", "give a number from 1 to 1000000"))
			b.Problem = &pr
			p := full(b)
			p.New, p.Count = casework.Stocking{Name: "fuse T 2 A", Place: "drawer 3", From: "pulled", Note: "from the bread maker"}, "-3"
			return p
		}},
		{"shelf-line", "one line of the shelf", "shelf-line", func(b Base) any {
			l := galleryShelf().Lines[0]
			return &linePage{ShelfBase: base(b, l.Name, "/shelf"), L: &l, Origins: casework.PartOrigins(), Log: galleryLog(), Places: galleryShelf().Places, Cases: []casework.Listed{{Case: "hall-left", Title: "Hall left"}}}
		}},
		{"shelf-board", "a part still on a board", "shelf-line", func(b Base) any {
			l := galleryShelf().Lines[2]
			return &linePage{ShelfBase: base(b, l.Name, "/shelf"), L: &l, Origins: casework.PartOrigins(), Log: galleryLog()[2:]}
		}},
		{"shelf-log", "what was written about the shelf", "shelf-log", func(b Base) any {
			return &shelfLogPage{ShelfBase: base(b, "What was written about the shelf", "/shelf"), Log: galleryLog()}
		}},
		{"shelf-list", "a list is asked for", "shelf-list", func(b Base) any { return &listPage{ShelfBase: base(b, "Take over a list", "/shelf")} }},
		{"shelf-list-read", "how a list was understood", "shelf-list", func(b Base) any {
			p := &listPage{ShelfBase: base(b, "Take over a list", "/shelf")}
			p.show(galleryList())
			p.Where = "/gallery/shelf"
			return p
		}},
		{"shelf-labels", "labels to print", "shelf-labels", func(b Base) any {
			return s.galleryLabels(base(b, "Labels to print", "/shelf"))
		}},
		{"shopping", "what all open cases may need", "shopping", func(b Base) any {
			return newShoppingPage(base(b, "Shopping list", "/shopping"), galleryShopping())
		}},
		{"shopping-none", "nothing to buy", "shopping", func(b Base) any {
			return newShoppingPage(base(b, "Shopping list", "/shopping"), &casework.Shopping{Cases: 2})
		}},
		{"offers", "which offers to order", "offers", func(b Base) any { b.Title = "What to buy"; return s.newOffersPage(b, galleryBasket()) }},
		{"offers-none", "no offers yet", "offers", func(b Base) any {
			b.Title = "What to buy"
			k := galleryBasket()
			k.Offers, k.Buy = nil, nil
			return s.newOffersPage(b, k)
		}},
		{"salvage", "parts of a device kept for parts", "salvage", func(b Base) any {
			b.Title = "Parts of Hall left"
			return s.newSalvagePage(b, &casework.Salvage{Case: "hall-left", Title: "Hall left", Done: galleryShelf().Lines[2:3], Parts: []casework.SalvagePart{
				{Part: "supply.bridge", Name: "rectifier diode 200 V 8 A", Mark: "D1…D4", Unit: "Bridge and reservoirs", Count: 1},
				{Part: "inlet.fuse", Name: "fuse T 2 A 250 V", Mark: "F1", Unit: "Mains inlet", Count: 1, Safe: true},
				{Part: "volume.pot", Name: "potentiometer", Unit: "Rotary volume control", Count: 1, Bad: 0.22}}})
		}},
		{"case-from-shelf", "the parts of the repair are on the shelf", "case", func(b Base) any {
			return newCasePage(b, with(func(v *casework.View) {
				galleryNext(v, 3)
				n := v.Next
				n.AtHand, n.Money, n.Days, n.Cost.Money, n.Cost.Days = true, 0, 0, 0, 0
				n.Shelf = []shelf.Pick{{Item: n.Buys[0].What, Line: "s12", Name: "electrolytic 4700 µF 63 V 105 °C", Count: 2, Place: "drawer 3", From: "new", Why: "meets all that “4700 µF 63 V 105 °C” asks for"}}
				n.Why = "It clears what is wrong with a chance of 58 % and takes 26 minutes. What it needs comes from your shelf: drawer 3; it costs nothing and nobody waits."
			}))
		}},
	}
}

func galleryShelf() *shelf.List {
	fig := func(pairs ...string) []shelf.Figure {
		var out []shelf.Figure
		for i := 0; i < len(pairs); i += 2 {
			out = append(out, shelf.Figure{Name: pairs[i], Text: pairs[i+1]})
		}
		return out
	}
	return &shelf.List{Total: 4, Pieces: 19, Page: 1, Pages: 1, All: 4, Places: []shelf.Place{{Place: "box of fuses", Lines: 1}, {Place: "drawer 3", Lines: 1}, {Place: "drawer 10", Lines: 1}, {Place: "shelf B", Lines: 1}},
		Lines: []shelf.Shown{
			{ID: "s12", Name: "electrolytic 4700 µF 63 V 105 °C", Kind: "electrolytic capacitor", Figures: fig("capacitance", "4700 µF", "rated voltage DC", "63 V", "rated temperature", "105 °C"), Count: 4, Place: "drawer 3", From: "new"},
			{ID: "s11", Name: "bridge rectifier 200 V 4 A", Kind: "rectifier diode", Figures: fig("rated voltage DC", "200 V"), Count: 2, Place: "drawer 10", From: "pulled", Note: "from a bench supply"},
			{ID: "s9-2", Name: "relay 24 V two-pole", Kind: "relay", Figures: fig("coil voltage", "24 V"), Count: 1, Place: "shelf B", From: "on a board", Board: "studio loudspeaker, kept for parts", Case: "old-box"},
			{ID: "s3", Name: "fuse T 2 A 250 V", Kind: "fuse", Count: 12, Place: "box of fuses", From: "new"},
			{ID: "s2", Name: "a part with a name that goes on and on and on until the line of a telephone is long full", Count: 0, From: "new"}}}
}

func galleryLog() []casework.ShelfEntry {
	at := func(n int) time.Time { return galleryTime.Add(time.Duration(n) * time.Hour) }
	return []casework.ShelfEntry{
		{Event: 15, At: at(9), Who: "Ida", Words: "used 2 × electrolytic 4700 µF 63 V 105 °C for case hall-left: Replace the reservoir capacitors", CanUndo: true},
		{Event: 14, At: at(8), Words: "counted electrolytic 4700 µF 63 V 105 °C: 5", Void: true},
		{Event: 12, At: at(2), Who: "Ida", Words: "stocked parts from the list hall.csv", CanUndo: true}}
}

func galleryList() *casework.ListDraft {
	return &casework.ListDraft{File: "hall.csv", Headings: []string{"Stuff", "How many", "Bin", "Colour"}, Columns: []string{"what it is", "pieces", "place", ""},
		Sample:  [][]string{{"resistor 4k7 1/4 W", "50", "drawer 1", "grey"}, {"electrolytic 470 µF 25 V", "10", "drawer 3", "blue"}, {"film 100n", "lots", "drawer 2", ""}},
		Preview: galleryShelf().Lines[:2], Lines: 213, Good: 211, Bad: 2, Unread: 14,
		Troubles: []casework.ListTrouble{{Line: 4, Text: "“lots” is no number of pieces; write a whole number from 0 to 1000000"}, {Line: 77, Text: "it does not say what it is"}}}
}

func (s *Server) galleryLabels(b ShelfBase) any {
	p := &labelPage{ShelfBase: b, What: "parts", Code: "words", First: "2", Host: "192.168.1.20:7700", Kinds: sheetKinds}
	var labels []label.Label
	for _, l := range galleryShelf().Lines[:4] {
		labels = append(labels, label.Label{Code: l.ID + " · " + l.Name + " · " + l.Place, Title: l.Name, Lines: []string{l.ID, l.Place, l.From}})
	}
	sheets, err := label.Sheets(labels, label.Paper{Used: 1})
	if err != nil {
		return &errorPage{Problem: explain(err)}
	}
	p.Count = len(labels)
	for _, x := range sheets {
		p.Sheets = append(p.Sheets, template.HTML(x)) // as in printLabels
	}
	return p
}

func galleryShopping() *casework.Shopping {
	for1 := casework.ShopFor{Case: "hall-left", Title: "Hall left", Repair: "supply.new-reservoirs", Name: "Replace the reservoir capacitors", Count: 2, Cures: 0.58, Worth: 9.2, Costs: 6.4, Currency: "EUR", Pays: true}
	for2 := casework.ShopFor{Case: "hall-right", Title: "Hall right", Repair: "supply.new-reservoirs", Name: "Replace the reservoir capacitors", Count: 2, Cures: 0.11, Worth: 1.1, Costs: 6.4, Currency: "EUR"}
	return &casework.Shopping{Cases: 3, More: 1, Twice: []casework.Wanted{{Line: "s3", Name: "fuse T 2 A 250 V", Place: "box of fuses", Count: 1, Need: 2, Cases: []string{"Hall left", "Hall right"}}}, About: "Worth: what the case is expected to cost without the parts in the house, less what it is expected to cost with them.", Lines: []casework.ShopLine{
		{What: "electrolytic 4700 µF 63 V", Count: 4, Price: 3.2, Currency: "EUR", Worth: 10.3, Pays: true, For: []casework.ShopFor{for1, for2}},
		{What: "relay 24 V two-pole", Count: 1, Price: 4, Currency: "EUR", Worth: 0.6, For: []casework.ShopFor{{Case: "hall-left", Title: "Hall left", Repair: "protect.new-relay", Name: "Replace the relay", Count: 1, Cures: 0.12, Worth: 0.6, Costs: 4, Currency: "EUR"}},
			Boards: []shelf.Pick{{Line: "s9-2", Name: "relay 24 V two-pole", Count: 1, Board: "studio loudspeaker", Place: "shelf B"}}},
		{What: "fuse", Count: 1, Price: 0.5, Currency: "EUR", For: []casework.ShopFor{{Case: "hall-left", Title: "Hall left", Repair: "inlet.new-fuse", Name: "Replace the mains fuse", Count: 1, Cures: 0.01, Costs: 0.5, Currency: "EUR"}}}}}
}

func galleryBasket() *casework.Basket {
	two := casework.Offer{What: "2 × 4700 µF 63 V 105 °C", Repairs: []string{"supply.new-reservoirs"}, Price: 6.4, Postage: 3.5, Days: 3, Seller: "Corner shop", Says: "cures hum", Match: "names the same symptoms"}
	kit := casework.Offer{What: "4 × 4700 µF 63 V 105 °C + fuse", Repairs: []string{"supply.new-reservoirs"}, Price: 8.9, Postage: 3.5, Days: 3, Seller: "Corner shop", Dud: 0.1}
	v := galleryView()
	return &casework.Basket{Case: "hall-left", Title: "Hall left", Currency: "EUR", Repairs: v.Repairs[:1], Exact: true, Bound: 21.3,
		Words: "order “4 × 4700 µF 63 V 105 °C + fuse” now", Buy: []string{kit.What}, Money: 12.4, Days: 3, Total: 21.3, Later: []string{},
		Why:    []string{"“4 × 4700 µF 63 V 105 °C + fuse” is what “Replace the reservoir capacitors” needs, which alone would cure it with 58 %.", "To order “2 × 4700 µF 63 V 105 °C” now is expected to come 1.46 EUR dearer."},
		Others: []casework.OtherSet{{Words: "order “2 × 4700 µF 63 V 105 °C” now", Behind: 1.46}, {Words: "order nothing yet: buy a part when its repair comes up", Behind: 3.1}},
		Offers: []casework.OfferWorth{
			{Offer: two, Titles: []string{"Replace the reservoir capacitors"}, Copies: []int{1}, Factor: 2.5, Heard: []string{"hums, a low steady tone"}, Worth: 4.9, Words: "ordering it now would pay below 4.90 EUR"},
			{Offer: kit, Titles: []string{"Replace the reservoir capacitors"}, Copies: []int{2}, Factor: 1, Worth: 10.36, Saves: 1.46, Now: true, Words: "ordering it now pays up to a price of 10.36 EUR; without this offer it would come 1.46 EUR dearer; a spare in it: all of it fails with 1 %"}}}
}
