// Package records holds what real repair records say about categories of
// household devices: which class of cause was found how often, and how the
// repairs ended. It is the starting point of an appraisal when nothing but the
// kind of device is known, and the yardstick a better appraisal has to beat.
//
// Start at [Shares] for the mix of cause classes of a category, at [Outcome]
// for how its repairs ended and at [Categories] for the names both understand.
// [Fit] is the computation behind the shares and needs none of the tables here.
//
// # Classes
//
// Cause classes are the 19 strings of [Classes]. Conventions where the records
// leave a choice, the same for hand labels and for anyone who compares with them:
//
//   - a bulb, LED or its driver, a pump, compressor, disk, tuner, aerial,
//     laser unit or transformer is "board/other";
//   - an external mains adapter is "power lead/plug", the charger of a
//     rechargeable device and a cell are "battery/charging";
//   - a headphone or loudspeaker cable is "wiring break", a jack, socket,
//     lampholder or corroded battery contact is "connector/contact";
//   - a potentiometer, key or pedal is "switch/button", but
//     "dirt/blockage/lubrication" where cleaning it was the repair;
//   - a hinge, seal, hose, clip, tray, clock movement or blade is
//     "belt/gear/mechanical".
//
// # Cautions
//
// Volunteers write the records at the end of an evening. They stop at "board
// dead": causes that need instruments (capacitors, semiconductors, solder
// joints) are under-stated, and "board/other" stands for some of them. A guess
// is recorded like a finding. Records that state no cause, about half, are not
// in the shares at all, and an easily named cause is stated more often than a
// hard one. What people carry to a repair evening is not what fails in homes:
// nothing here is a failure rate. Ages are known for one record in seven and
// rounded. Partners differ by 17 percentage points in what they call fixed, so
// an outcome share deserves a wide spread.
//
// # Failure
//
// An unknown category gives ok == false, never a default mix. The tables are
// part of the program; that they read well and that class-shares.csv is exactly
// what [Fit] makes is held by tests.
//
// References: Open Repair Data, Open Repair Alliance, CC BY-SA 4.0, adapted;
// releases and changes are listed in README.md beside this file.
package records
