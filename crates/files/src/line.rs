//! A line as an order file states it: kind, rope, lead, ends, wishes.

use crate::amounts::{kn, m, mm};
use crate::form::{BuryWish, EyeOn, MeasuredAt, Point, TaperWish};
use crate::place::Place;
use crate::problem::{Log, Problem};
use crate::record::record;
use crate::value::{Date, Notes, Share};
use crate::word::words;
use units::{Force, Length};

words! {
    /// What a line does.
    LineKind, "kind of line" {
        "main-halyard" => MainHalyard, "hoists the mainsail";
        "jib-halyard" => JibHalyard, "hoists the jib";
        "staysail-halyard" => StaysailHalyard, "hoists the staysail";
        "spinnaker-halyard" => SpinnakerHalyard, "hoists the spinnaker";
        "topping-lift" => ToppingLift, "holds the boom up";
        "pole-lift" => PoleLift, "holds the spinnaker pole up";
        "mainsheet" => Mainsheet, "trims the boom";
        "jib-sheet" => JibSheet, "trims the jib";
        "staysail-sheet" => StaysailSheet, "trims the staysail";
        "spinnaker-sheet" => SpinnakerSheet, "trims the spinnaker's clew";
        "guy" => Guy, "holds the spinnaker pole aft";
        "tack-line" => TackLine, "holds an asymmetric's tack down";
        "foreguy" => Foreguy, "holds the spinnaker pole down";
        "vang" => Vang, "holds the boom down";
        "outhaul" => Outhaul, "stretches the mainsail's foot";
        "cunningham" => Cunningham, "stretches the mainsail's luff";
        "backstay-adjuster" => BackstayAdjuster, "tightens the backstay";
        "runner" => Runner, "holds the mast aft from the side";
        "checkstay" => Checkstay, "holds the mast's middle aft";
        "reef-line-slab" => ReefLineSlab, "pulls the reef clew to the boom";
        "reef-line-single" => ReefLineSingle, "pulls reef tack and clew down together";
        "furling-line" => FurlingLine, "turns a furler's drum";
        "traveller" => Traveller, "moves a traveller car";
        "lazy-jack" => LazyJack, "catches the mainsail";
        "lifeline-lashing" => LifelineLashing, "tightens a lifeline";
        "strop" => Strop, "holds a block or fitting";
        "loop" => Loop, "an endless loop";
        "soft-shackle" => SoftShackle, "a shackle of rope";
        "dock-line" => DockLine, "makes the boat fast";
        "anchor-rode" => AnchorRode, "holds the anchor";
        "messenger" => Messenger, "reeves another line";
        "peak-halyard" => PeakHalyard, "holds a gaff's outer end up";
        "throat-halyard" => ThroatHalyard, "hoists a gaff's inner end";
        "jib-car" => JibCar, "moves a headsail car";
    }

    /// What hangs on the line.
    Duty, "duty" {
        "running" => Running, "sails, spars and boat";
        "holds-person" => HoldsPerson, "holds or lifts a person";
        "standing-rigging" => StandingRigging, "stays the mast";
    }

    /// Which mast a line belongs to.
    MastName, "mast" {
        "main" => Main, "the main, or only one";
        "mizzen" => Mizzen, "the second mast of a ketch or yawl";
    }

    /// What the line meets at a point of its lead.
    LeadOn, "thing on a lead" {
        "sheave" => Sheave, "a block or a sheave in a spar";
        "fairlead" => Fairlead, "a ring or hole it slides through";
        "clutch" => Clutch, "a clutch that holds it";
        "winch" => Winch, "a winch drum";
        "padeye" => Padeye, "a point where it is made fast";
        "cam" => Cam, "a cam cleat";
    }

    /// How a sheave turns.
    Bearing, "bearing" {
        "ball" => Ball, "balls";
        "roller" => Roller, "rollers";
        "plain" => Plain, "a pin in a bush";
    }

    /// How an end is made.
    EndKind, "kind of end" {
        "long-bury-eye" => LongBuryEye, "an eye, tail buried in the hollow braid";
        "locked-eye" => LockedEye, "an eye, tail passed through and through, then buried";
        "end-to-end" => EndToEnd, "two hollow braids joined, each buried in the other";
        "endless-loop" => EndlessLoop, "a loop of hollow braid without ends";
        "adjustable-loop" => AdjustableLoop, "a loop that slides in its own bury";
        "soft-shackle" => SoftShackle, "a shackle of rope with a knob";
        "strop" => Strop, "a whole piece with an eye at each end";
        "luggage-tag-loop" => LuggageTagLoop, "a loop that the line is passed through";
        "covered-eye" => CoveredEye, "an eye in the core with the cover carried round it";
        "bare-core-eye" => BareCoreEye, "an eye in the core, cover taken off and buried below";
        "core-to-cover-join" => CoreToCoverJoin, "a core joined to another rope's cover";
        "core-and-cover-eye" => CoreAndCoverEye, "an eye of core and cover, each buried in the other";
        "core-and-cover-end-to-end" => CoreAndCoverEndToEnd, "two double braids joined, cores and covers buried";
        "core-and-cover-loop" => CoreAndCoverLoop, "a loop of double braid without ends";
        "tucked-eye" => TuckedEye, "an eye, three strands tucked over and under";
        "short-splice" => ShortSplice, "laid ropes joined, strands tucked both ways";
        "back-splice" => BackSplice, "strands tucked back into the end";
        "eight-plait-tucked-eye" => EightPlaitTuckedEye, "an eye, pairs of strands tucked along their like";
        "to-chain" => ToChain, "rope spliced to a chain's end link";
        "unlike-ropes" => UnlikeRopes, "ropes of different build joined";
        "reeving-loop" => ReevingLoop, "a small loop to reeve the line by";
        "common-whipping" => CommonWhipping, "twine wound over its own loop";
        "sailmakers-whipping" => SailmakersWhipping, "twine wound round and laid along the strands";
        "stitched-whipping" => StitchedWhipping, "twine wound round and stitched through";
        "whipped-end" => WhippedEnd, "twine round the end, as suits the rope";
        "sealed-end" => SealedEnd, "end melted";
    }

    /// What of an old line is kept.
    CopyPart, "part of a line" {
        "rope" => Rope, "the same rope again";
        "ends" => Ends, "the same ends again";
        "marks" => Marks, "its marks";
    }

    /// What becomes of the cover.
    CoverWish, "cover wish" {
        "keep" => Keep, "stays on";
        "strip" => Strip, "comes off between the two points of strip";
        "choose" => Choose, "as the answer advises";
    }
}

record! {
    /// Where the working end is at the two ends of its travel.
    WorkingRecord {
        /// Line hauled in
        required hauled: Point;
        /// Line eased right out
        required eased: Point;
    }

    /// A point of the lead.
    LeadRecord {
        /// What it is called
        required name: String;
        /// Where it is
        required at: Point;
        /// What the line meets there
        required on: LeadOn;
        /// Diameter of the sheave at the groove's bottom, of the drum, or of the fairlead's bend
        optional diameter: Length where mm(3.0)..=mm(800.0);
        /// How the sheave turns
        optional bearing: Bearing;
        /// Thickest rope that passes
        optional max_rope: Length where mm(1.0)..=mm(80.0);
        /// Thinnest rope that clutch, cam or self-tailing winch holds
        optional min_rope: Length where mm(1.0)..=mm(80.0);
        /// Width of a sheave's groove
        optional groove: Length where mm(1.0)..=mm(120.0);
    }

    /// How a line stands under load, for creep.
    StandingRecord {
        /// Temperature of the rope, degrees Celsius
        optional celsius: f64 where -20.0..=70.0;
        /// Years under load in all until it is replaced
        optional years: f64 where 0.01..=50.0;
    }

    /// A load that is known and wins over the computed one.
    LoadRecord {
        /// Held for long
        required steady: Force where kn(0.001)..=kn(1000.0);
        /// In a gust, a wave or a bad gybe
        optional peak: Force where kn(0.001)..=kn(1000.0);
    }

    /// One end of a line.
    EndRecord {
        /// How it is made
        required kind: EndKind;
        /// What the eye goes on
        optional on: EyeOn;
        /// Length of the eye inside, laid flat
        optional eye: Length where mm(3.0)..=m(5.0);
        /// Bury, if not by the rule
        optional bury: BuryWish;
        /// Taper, if not by the rule
        optional taper: TaperWish;
    }

    /// Both ends.
    EndsRecord {
        /// The end at the sail, spar or load
        optional working: EndRecord;
        /// The end at the hand
        optional bitter: EndRecord;
    }

    /// A run without its cover, measured from the working end's bearing point.
    StripRecord {
        /// Where the cover stops
        required from: Length where mm(0.0)..=m(500.0);
        /// Where it goes on again
        required to: Length where mm(0.0)..=m(500.0);
    }

    /// Who lets a stop finding pass, and why.
    OverrideRecord {
        /// Who
        required by: String;
        /// When
        required date: Date;
        /// Why
        required reason: String;
    }

    /// A mark on a line that was brought in.
    MarkRecord {
        /// What it marks
        required name: String;
        /// How far from the working end's bearing point
        required at: Length where mm(0.0)..=m(500.0);
    }

    /// A line that was brought in to be copied.
    CopiedRecord {
        /// Measured length, bearing point to bearing point
        required length: Length where mm(50.0)..=m(500.0);
        /// The pull it was measured under; a length alone says nothing
        required tension: MeasuredAt;
        /// The old rope
        optional rope: String;
        /// Its marks
        many marks: MarkRecord;
        /// Its ends
        optional ends: EndsRecord;
        /// What of it is kept; all else is as the line says
        many keep: CopyPart;
    }

    /// One line, or several alike.
    LineRecord checked by check_line {
        /// What it is called, once in the order
        required name: String;
        /// What it does
        required kind: LineKind;
        /// What hangs on it
        assumed duty: Duty => Duty::Running;
        /// How many alike; 2 is a pair, port and starboard
        assumed count: u32 where 1..=50 => 1;
        /// The rope: a name in the rope list or a description such as "10 mm 12-strand HMPE"; left out, it is chosen
        optional rope: String;
        /// Ropes to choose among; left out, the whole list
        many candidates: String;
        /// Colour wanted
        optional colour: String;
        /// Mast that it belongs to
        assumed mast: MastName => MastName::Main;
        /// Reef that it hauls down, the first is 1; left out, the worst of all
        optional reef: u32 where 1..=6;
        /// Parts at the moving block
        assumed purchase: u32 where 1..=64 => 1;
        /// Parts of each purchase between the load and this line's own, the one at the load first
        many cascade: u32 where 2..=12;
        /// Finished length, if not computed from the lead
        optional length: Length where mm(50.0)..=m(500.0);
        /// Length beyond the last point of the lead, line eased right out
        optional tail: Length where mm(0.0)..=m(100.0);
        /// Working end at the two ends of its travel
        optional working: WorkingRecord;
        /// Points of the lead in order, from the working end to the hand
        many lead: LeadRecord;
        /// Known load
        optional load: LoadRecord;
        /// How warm it is under a load that stands and for how long, if not as use.standing says
        optional standing: StandingRecord;
        /// Most stretch at the steady load, if not by its kind
        optional stretch_budget: Share where 0.0005..=0.5;
        /// The ends
        optional ends: EndsRecord;
        /// What becomes of the cover
        optional cover: CoverWish;
        /// Where the cover comes off
        optional strip: StripRecord;
        /// Lets a stop finding pass, with a name, a day and a reason
        optional overridden as "override": OverrideRecord;
        /// A line brought in to be copied
        optional copied_from: CopiedRecord;
        /// Made before all others
        assumed rush: bool => false;
        /// Day by which it is wanted
        optional due: Date;
        /// Whether all pieces of it come from one reel
        assumed same_reel: bool => false;
        /// Remarks
        optional notes: Notes;
    }
}

/// What contradicts itself within one line.
fn check_line(line: &LineRecord, log: &mut Log) {
    if let (Some(rope), Some(first)) = (&line.rope, line.candidates.first()) {
        log.push(
            contradiction("rope settles what candidates leave open", "one of the two", rope.place)
                .and("the candidates begin here", first.place),
        );
    }
    match (&line.cover, &line.strip) {
        (Some(cover), Some(strip)) if cover.value == CoverWish::Keep => {
            log.push(
                contradiction("the cover cannot be kept and stripped", "cover = \"strip\" or no strip", strip.place)
                    .and("kept here", cover.place),
            );
        }
        (Some(cover), None) if cover.value == CoverWish::Strip => {
            let problem = contradiction("cover = \"strip\" does not say where", "", cover.place);
            log.push(problem.hint("add strip = { from = \"400 mm\", to = \"9 m\" }, or write \"choose\""));
        }
        _ => {}
    }
    if let Some(strip) = &line.strip
        && strip.value.to.value <= strip.value.from.value
    {
        log.push(contradiction("strip ends before it begins", "from smaller than to", strip.place));
    }
    if let Some(load) = &line.load
        && let Some(peak) = &load.value.peak
        && peak.value < load.value.steady.value
    {
        log.push(contradiction("the peak load is below the steady one", "peak at least steady", peak.place));
    }
    for turn in &line.lead {
        check_fit(&turn.value, log);
    }
    if let (Some(length), Some(copied)) = (&line.length, &line.copied_from) {
        log.push(
            contradiction("the length is given twice", "length, or copied_from", length.place)
                .and("and here", copied.value.length.place),
        );
    }
    if let Some(copied) = &line.copied_from {
        check_copied(line, &copied.value, log);
    }
    if line.same_reel.value && line.count.value == 1 {
        let problem =
            contradiction("one piece is always from one reel", "same_reel with count 2 or more", line.same_reel.place);
        log.push(problem.hint("leave same_reel out, or set count"));
    }
}

/// What a place takes and holds.
fn check_fit(turn: &LeadRecord, log: &mut Log) {
    let name = &turn.name.value;
    if let (Some(least), Some(most)) = (&turn.min_rope, &turn.max_rope)
        && least.value > most.value
    {
        let message = format!("{name} holds rope of {} and more, and takes no more than {}", least.value, most.value);
        log.push(contradiction(&message, "min_rope at most max_rope", least.place).and("max_rope is here", most.place));
    }
    if let Some(least) = &turn.min_rope
        && !matches!(turn.on.value, LeadOn::Clutch | LeadOn::Cam | LeadOn::Winch)
    {
        let message = format!("{name} is a {}, which holds no rope", turn.on.value.word());
        log.push(contradiction(&message, "min_rope on a clutch, a cam or a winch", least.place));
    }
    if let Some(groove) = &turn.groove
        && turn.on.value != LeadOn::Sheave
    {
        let message = format!("{name} is a {}, which has no groove", turn.on.value.word());
        log.push(contradiction(&message, "groove on a sheave", groove.place));
    }
}

/// What is kept must be there, and is not given a second time.
fn check_copied(line: &LineRecord, copied: &CopiedRecord, log: &mut Log) {
    for part in &copied.keep {
        let (there, again) = match part.value {
            CopyPart::Rope => (copied.rope.is_some(), line.rope.as_ref().map(|rope| rope.place)),
            CopyPart::Ends => (copied.ends.is_some(), line.ends.as_ref().map(|ends| ends.place)),
            CopyPart::Marks => (!copied.marks.is_empty(), None),
        };
        let word = part.value.word();
        if !there {
            let message = format!("{word:?} is kept, and copied_from does not say what the old {word} was");
            log.push(contradiction(&message, "", part.place).hint(format!("give copied_from.{word}")));
        }
        if let Some(again) = again {
            log.push(
                contradiction(
                    &format!("{word:?} is kept from the old line and given anew"),
                    "one of the two",
                    part.place,
                )
                .and("given here", again),
            );
        }
    }
    for mark in copied.marks.iter().filter(|mark| mark.value.at.value > copied.length.value) {
        let allowed = format!("at most {}", copied.length.value);
        log.push(contradiction("the mark lies beyond the old line's end", &allowed, mark.value.at.place));
    }
}

fn contradiction(message: &str, allowed: &str, place: Place) -> Problem {
    Problem::new("contradiction", message).allowed(allowed).at(place)
}
