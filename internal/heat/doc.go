// Package heat computes what hot air, an iron and a preheater do to a soldered
// board: when the joints of a part let go, how hot its die and body get by then,
// and what the capacitor next to it sees.
//
// # Where to start
//
// Fill in a [Job] (board, part, neighbours, tool, alloy) and call [Simulate] for
// one run, or [Advise] for a recommendation with a time window and its
// uncertainty. [PartFor] lays out common packages. [Contours] turns a frame of the
// [History] into labelled polylines. [AlloyByName], [GuessAlloy],
// [ClassificationTemp], [Materials] and [NeighbourKinds] are the tables.
//
// # Model
//
// The board is a plate of Nodes layers of nodes through its thickness (first and
// last on the surfaces) on a rectangular grid whose cells grow by a quarter from one to
// the next away from the part (TestGrowingCellsDoNotShow). Per node, in watts,
//
//	C·dT/dt = Σ G·(T_next − T) + h·A·(T_air − T) − h_loss(T)·A·(T − T_amb)
//
// with C and G from laminate and copper smeared by their share of the area. A part
// is two lumps (case: upper half of the body; die: lower half with the lead
// frame); a neighbour is one. Lumps exchange heat with the nodes under them through
// leads and the gap under the body. Solder is part of the nodes under its pad and
// takes up latent heat between solidus and liquidus. An iron is a lump with a
// limited heater.
//
// Time stepping solves A·w = Δt·f(T), A = C − θΔt·K, for the increments w of a step.
// Where no lump and at most two of the directions x, y, z are stiff at any one node
// (two-layer boards, hot air), A is replaced by its factored form after Douglas and Gunn,
//
//	(C−θΔt·Kx) C⁻¹ (C−θΔt·Ky) C⁻¹ (C−θΔt·Kn) C⁻¹ (C−θΔt·Kz)
//
// one tridiagonal solve per grid line and direction; Kn couples the lumps and is solved
// exactly by eliminating the nodes they touch. For commuting directions it is stable
// for any step (with negative eigenvalues z the amplification 1 + Σz/Π(1−θz) stays
// within ±1 for θ ≥ ½). They do not commute where materials change, and three stiff ones
// can then overshoot badly: vias under a small pad, full copper on thin laminate, a tip
// with a very good contact. There A is solved itself, by conjugate gradients, which is
// safe for any step and slower by the number of iterations. θ is 0.55, and 1 for the
// first short steps after a change of the tool, in stiff places and while solder melts.
// Where no node changes by more than 2 K in it, several steps are taken as one, up to a
// second (TestLongStepsDoNotShow: the picture stays within 0.3 K). While solder melts a
// step is cut or taken together so that no node changes by more than 0.1 K, within limits,
// and the factored form is left sooner (TestMeltingDoesNotOvershoot). Runs of one advice
// share the preheater's soak, to the last bit (soak.go).
//
// Both ways are second order in space, have a steady state that does not depend on the
// step, and keep the heat to rounding. In the job of the tests (50 × 40 mm, SOIC-8,
// 370 °C) the step of 0.25 s moves the melting time by 2 %, a cell of 1 mm instead of
// 0.5 mm by 7 %, three nodes instead of five by 3 %.
//
// A step costs some ten passes over the nodes, no division, and no memory of its own:
// rows are swept along x while they are still in the cache, strips of columns along y,
// and the faces' exchange is linearised once per tool and step, not at every step.
//
// Grid lines are shared among a bounded number of goroutines; the result does not
// depend on their number.
//
// Hot air follows Martin's correlation for a round impinging jet, differentiated
// to a local coefficient; see [Jet] for what is done outside its range.
//
// # Units and ranges
//
// Lengths in mm, temperatures in °C, times in s, heat in J and W, flow in litres
// per minute of air at 20 °C. Every input has a range; a value outside it is a
// [*FieldError] that names the field, the range and the unit.
//
// # What the figures are worth
//
// The heat transfer coefficient of a hand-held nozzle is known to perhaps ±40 %,
// copper and contact to a factor. [Advise] therefore gives a window, not a time.
// Values in the tables carry a [Mark]: read in a source, derived, or from memory.
//
// # Failure
//
// Functions return errors for bad input and for a cancelled context; no input
// leads to a panic or NaN. The energy balance of each run is returned in
// [Energy.Residual] and is at rounding level; a residual above 0.1 % is an error.
//
// # References
//
//   - J. Douglas, J. E. Gunn, A general formulation of alternating direction
//     methods, Numerische Mathematik 6, 1964.
//   - H. Martin, Heat and mass transfer between impinging gas jets and solid
//     surfaces, Advances in Heat Transfer 13, 1977.
//   - F. P. Incropera et al., Fundamentals of Heat and Mass Transfer, ch. 3, 5, 7, 9.
//   - J-STD-020 (classification temperatures, reflow profile), quoted in data sheets.
package heat
