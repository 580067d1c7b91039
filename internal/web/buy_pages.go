package web

import (
	"fmt"
	"io"
	"math"
	"net/http"
	"slices"
	"strings"

	"fettler/internal/casework"
)

type shoppingPage struct {
	ShelfBase
	S     *casework.Shopping
	Worth []casework.ShopLine // worth something now
	Rest  []casework.ShopLine // hardly ever needed
	Lines string              // the same to copy
	Tall  int                 // lines of it
}

// shoppingShow is what all open cases may need.
func (s *Server) shoppingShow(w http.ResponseWriter, r *http.Request) error {
	list, err := s.bench.Shopping(r.Context())
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "shopping", newShoppingPage(s.shelfBase(r, "Shopping list", "/shopping"), list))
}

func newShoppingPage(b ShelfBase, list *casework.Shopping) *shoppingPage {
	text := list.Text()
	p := &shoppingPage{ShelfBase: b, S: list, Lines: text, Tall: min(20, 1+strings.Count(text, "\n"))}
	for _, l := range list.Lines {
		if l.Pays || l.Worth >= 0.005 || l.Currency == "" {
			p.Worth = append(p.Worth, l)
		} else {
			p.Rest = append(p.Rest, l)
		}
	}
	return p
}

// shoppingText is the same as plain text, to send or to keep.
func (s *Server) shoppingText(w http.ResponseWriter, r *http.Request) error {
	list, err := s.bench.Shopping(r.Context())
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	_, err = io.WriteString(w, list.Text())
	return err
}

type offersPage struct {
	Base
	Style, More string
	B           *casework.Basket
	Path        string
	Rows        []OfferRow
	Paste       string
	Wanted      []string // repairs of the offers to order now
	Bought      string   // what they are, in words
	Matches     []casework.SellerMatch
}

// An OfferRow is one offer in the form.
type OfferRow struct {
	I int
	casework.Offer
	Price, Postage, Days string
	Misfit, Dud          []ChanceChoice
	Chosen               map[string]bool
}

// A ChanceChoice is a chance in words to choose.
type ChanceChoice struct {
	Percent string
	Words   string
	Chosen  bool
}

// The words for chances of an offer; our judgement, common practice, no source.
var (
	misfits = []ChanceChoice{{"", "it will", false}, {"5", "it should", false}, {"20", "perhaps not", false}, {"50", "even chances", false}}
	duds    = []ChanceChoice{{"", "all good", false}, {"2", "a shop I trust", false}, {"10", "fiddly to fit, or a seller I do not know", false}, {"30", "often faked or often spoilt", false}}
)

// chances are the words to choose from, with the one that is chosen; another figure is a choice of its own.
func chances(of []ChanceChoice, percent string) []ChanceChoice {
	out := slices.Clone(of)
	for i := range out {
		if out[i].Percent == percent {
			out[i].Chosen = true
			return out
		}
	}
	return append(out, ChanceChoice{percent, "as entered", true})
}

// inPercent is a chance as one types it in percent, empty for 0.
func inPercent(p float64) string { return figure(math.Round(p*1e4) / 100) }

// offersShow shows the offers of a case and what to buy of them.
func (s *Server) offersShow(w http.ResponseWriter, r *http.Request) error {
	p, err := s.offersPage(r)
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "offers", p)
}

func (s *Server) offersPage(r *http.Request) (*offersPage, error) {
	b, err := s.bench.Basket(r.Context(), r.PathValue("case"))
	if err != nil {
		return nil, err
	}
	return s.newOffersPage(s.base(r, "What to buy", ""), b), nil
}

// newOffersPage lays a basket out; a row is left for a further offer.
func (s *Server) newOffersPage(b Base, k *casework.Basket) *offersPage {
	p := &offersPage{Base: b, Style: s.static.path("parts.css"), More: s.static.path("shelf.css"), B: k, Path: casePath(k.Case), Matches: casework.SellerMatches()}
	for _, o := range k.Offers {
		p.row(o.Offer, inPercent(o.Misfit), inPercent(o.Dud))
		if o.Now {
			p.Wanted = append(p.Wanted, o.Repairs...)
		}
	}
	p.Bought = strings.Join(k.Buy, "; ")
	p.row(casework.Offer{}, "", "")
	if len(k.Offers) == 0 {
		p.row(casework.Offer{}, "", "")
	}
	return p
}

func (p *offersPage) row(o casework.Offer, misfit, dud string) {
	row := OfferRow{I: len(p.Rows), Offer: o, Price: coins(o.Price), Postage: coins(o.Postage), Days: figure(o.Days), Misfit: chances(misfits, misfit), Dud: chances(duds, dud), Chosen: map[string]bool{}}
	for _, id := range o.Repairs {
		row.Chosen[id] = true
	}
	p.Rows = append(p.Rows, row)
}

// offersRecord records the offers of a case.
func (s *Server) offersRecord(w http.ResponseWriter, r *http.Request) error {
	p, err := s.offersPage(r)
	if err != nil {
		return err
	}
	all, err := p.enter(r)
	if err == nil {
		var more []casework.Offer
		if more, err = casework.ParseOffers(p.Paste); err == nil {
			if _, err = s.bench.SetOffers(r.Context(), p.B.Case, casework.Offering{By: by(r), Offers: append(all, more...)}); err == nil {
				return goTo(w, r, p.Path+"/offers")
			}
		}
	}
	return s.again(w, err, "offers", &p.Base, p)
}

// enter reads the rows; one without contents is left out.
func (p *offersPage) enter(r *http.Request) ([]casework.Offer, error) {
	p.Paste = r.PostFormValue("paste")
	p.Rows = nil
	var out []casework.Offer
	for i := 0; i < 60 && r.PostForm.Has(fmt.Sprintf("what.%d", i)); i++ {
		get := func(k string) string { return strings.TrimSpace(r.PostFormValue(fmt.Sprintf("%s.%d", k, i))) }
		o := casework.Offer{What: get("what"), Seller: get("seller"), Says: get("says"), Match: get("match"), Repairs: slices.Clone(formList(r, fmt.Sprintf("repair.%d", i)))}
		p.row(o, get("misfit"), get("dud"))
		row := &p.Rows[len(p.Rows)-1]
		row.Price, row.Postage, row.Days = get("price"), get("postage"), get("days")
		if o.What == "" || get("drop") == "yes" {
			continue
		}
		for _, x := range []struct {
			key, what string
			to        *float64
		}{{"price", "the price", &o.Price}, {"postage", "the postage", &o.Postage}, {"days", "the days", &o.Days}, {"misfit", "the chance that it does not fit", &o.Misfit}, {"dud", "the chance of a dud", &o.Dud}} {
			if err := asked(r, fmt.Sprintf("%s.%d", x.key, i), x.what, x.to); err != nil {
				return nil, err
			}
		}
		o.Misfit, o.Dud = o.Misfit/100, o.Dud/100
		out = append(out, o)
	}
	return out, nil
}

type salvagePage struct {
	Base
	Style, More string
	S           *casework.Salvage
	Path        string
	Place       string
	Chosen      map[string]string // pieces by part
}

// salvageForm asks what of a device kept for parts goes on the shelf.
func (s *Server) salvageForm(w http.ResponseWriter, r *http.Request) error {
	p, err := s.salvagePage(r)
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "salvage", p)
}

func (s *Server) salvagePage(r *http.Request) (*salvagePage, error) {
	x, err := s.bench.SalvageOf(r.Context(), r.PathValue("case"))
	if err != nil {
		return nil, err
	}
	return s.newSalvagePage(s.base(r, "Parts of "+x.Title, ""), x), nil
}

func (s *Server) newSalvagePage(b Base, x *casework.Salvage) *salvagePage {
	return &salvagePage{Base: b, Style: s.static.path("parts.css"), More: s.static.path("shelf.css"), S: x, Path: casePath(x.Case), Chosen: map[string]string{}}
}

// salvageRecord notes parts on the shelf as still on their board.
func (s *Server) salvageRecord(w http.ResponseWriter, r *http.Request) error {
	p, err := s.salvagePage(r)
	if err != nil {
		return err
	}
	in := casework.Salvaging{By: by(r), Parts: map[string]int{}, Place: r.PostFormValue("place")}
	p.Place = in.Place
	for _, id := range formList(r, "part") {
		n := 1.0
		p.Chosen[id] = strings.TrimSpace(r.PostFormValue("n." + id))
		if err = asked(r, "n."+id, "the pieces", &n); err == nil && n != float64(int(n)) {
			err = refusal("there are no broken pieces", "give a whole number")
		}
		if err != nil {
			break
		}
		in.Parts[id] = int(n)
	}
	if err == nil {
		var rec casework.ShelfReceipt
		if rec, err = s.bench.Salvage(r.Context(), p.S.Case, in); err == nil {
			return goTo(w, r, fmt.Sprintf("/shelf?done=%d", rec.Event))
		}
	}
	return s.again(w, err, "salvage", &p.Base, p)
}
