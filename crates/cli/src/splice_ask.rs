//! What `becket splice` may be asked.

use crate::own::OwnAsk;
use clap::Args;
use desk::{Problem, SpliceRequest, System};
use std::path::PathBuf;

/// One end.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub struct SpliceAsk {
    /// "10 mm 12-strand HMPE", or a name in the rope list.
    #[arg(long)]
    rope: String,
    /// The kind of end: long-bury-eye, covered-eye, tucked-eye, whipped-end …
    #[arg(long)]
    end: String,
    /// The loft's rope list (CSV).
    #[arg(long)]
    ropes: Option<PathBuf>,
    /// Bury: 50d, or 600mm.
    #[arg(long)]
    bury: Option<String>,
    /// Inside length of the eye, laid flat: "60 mm".
    #[arg(long)]
    eye: Option<String>,
    /// What the eye goes on: "12 mm pin", "10 mm thimble".
    #[arg(long)]
    eye_on: Option<String>,
    /// common, none, half-at-once or chosen.
    #[arg(long)]
    taper: Option<String>,
    /// Throat when slack: stitch-and-whip, stitch, whip, full-length or none.
    #[arg(long)]
    lock: Option<String>,
    /// Solve the bury for this grip margin at the low end: 1.5.
    #[arg(long)]
    wanted_margin: Option<String>,
    /// Bearing point to cover, of a bare-core eye: "2 m".
    #[arg(long)]
    stripped_run: Option<String>,
    /// Finished length of a strop.
    #[arg(long)]
    length: Option<String>,
    /// The other rope of a join.
    #[arg(long)]
    other_rope: Option<String>,
    /// Rope there is for it: refused if the marks do not fit.
    #[arg(long)]
    rope_length: Option<String>,
    /// It is a sling: its tucks and tails go by the sling rule.
    #[arg(long)]
    sling: bool,
    /// Full tucks, in place of the common ones.
    #[arg(long)]
    tucks: Option<String>,
    /// How tucks are finished: thinned or proud.
    #[arg(long)]
    finish: Option<String>,
    /// A fid in rope diameters: 21, or 22 where it is reckoned with pi.
    #[arg(long)]
    fid: Option<String>,

    /// Measured: length of one full turn of a strand.
    #[arg(long, help_heading = "The rope as measured")]
    pitch: Option<String>,
    /// Measured: picks in a metre, along one line.
    #[arg(long, help_heading = "The rope as measured")]
    picks_per_metre: Option<String>,
    /// Measured: diameter over a trial bury.
    #[arg(long, help_heading = "The rope as measured")]
    over_bury: Option<String>,
    /// Measured: width of one strand in the braid.
    #[arg(long, help_heading = "The rope as measured")]
    strand_width: Option<String>,
    /// Measured: diameter of the stripped core.
    #[arg(long, help_heading = "The rope as measured")]
    core_diameter: Option<String>,

    /// Working load: "4.5 kN".
    #[arg(long, help_heading = "Loads and grip")]
    load: Option<String>,
    /// The highest load it sees; its listed strength without it.
    #[arg(long, help_heading = "Loads and grip")]
    peak: Option<String>,
    /// Mass of what hangs on the eye when slack: "300 g".
    #[arg(long, help_heading = "Loads and grip")]
    hardware: Option<String>,
    /// It never hangs slack or flogs.
    #[arg(long, help_heading = "Loads and grip")]
    never_slack: bool,
    /// Friction of strand on strand: 0.04..0.08.
    #[arg(long, help_heading = "Loads and grip")]
    friction: Option<String>,
    /// Friction of the eye on its fitting: 0.1; none takes even legs.
    #[arg(long, help_heading = "Loads and grip")]
    pin_friction: Option<String>,
    /// Friction that falls with load, F = a N^n: n, such as 0.75.
    #[arg(long, help_heading = "Loads and grip")]
    friction_exponent: Option<String>,
    /// Load over which the braid closes, in percent of strength: 0.05..0.5.
    #[arg(long, help_heading = "Loads and grip")]
    onset: Option<String>,
    /// Simulate so many draws: percentiles of margin and strength.
    #[arg(long, value_name = "DRAWS", num_args = 0..=1, default_missing_value = "100000", help_heading = "Loads and grip")]
    chance: Option<String>,
    /// Seed of the simulation; the same seed has the same answer.
    #[arg(long, requires = "chance", help_heading = "Loads and grip")]
    seed: Option<String>,

    #[command(flatten)]
    own: OwnAsk,

    /// Write its drawings (SVG) and its JSON to this folder.
    #[arg(long, value_name = "DIR", conflicts_with_all = ["svg", "compare"])]
    pub out: Option<PathBuf>,
    /// Print one drawing: laid-out, made-up, taper, load-passing, other-rope.
    #[arg(long, value_name = "DRAWING", num_args = 0..=1, default_missing_value = "made-up", conflicts_with = "compare")]
    pub svg: Option<String>,
    /// Side by side: as asked, the common practice, and other tapers and buries.
    #[arg(long)]
    pub compare: bool,
    /// Show how every number came about.
    #[arg(long)]
    pub working: bool,
}

const EXAMPLES: &str = "\
Examples:
  becket splice --rope \"10 mm 12-strand HMPE\" --end long-bury-eye --bury 50d
      --eye-on \"12 mm pin\" --friction 0.04..0.08 --compare
  becket splice --rope \"12 mm 3-strand polyester\" --end tucked-eye --sling
  becket splice --rope \"10 mm 12-strand HMPE\" --end soft-shackle
      --eye \"200 mm\" --out shackle";

impl SpliceAsk {
    /// For desk.
    pub fn request(&self, units: Option<System>) -> Result<SpliceRequest, Problem> {
        Ok(SpliceRequest {
            rope: self.rope.clone(),
            end: self.end.clone(),
            ropes: self.ropes.clone().map(Into::into),
            bury: self.bury.clone(),
            eye: self.eye.clone(),
            eye_on: self.eye_on.clone(),
            taper: self.taper.clone(),
            lock: self.lock.clone(),
            friction: self.friction.clone(),
            wanted_margin: self.wanted_margin.clone(),
            pitch: self.pitch.clone(),
            over_bury: self.over_bury.clone(),
            picks_per_metre: self.picks_per_metre.clone(),
            strand_width: self.strand_width.clone(),
            core_diameter: self.core_diameter.clone(),
            load: self.load.clone(),
            peak: self.peak.clone(),
            hardware: self.hardware.clone(),
            never_slack: self.never_slack,
            pin_friction: self.pin_friction.clone(),
            friction_exponent: self.friction_exponent.clone(),
            onset: self.onset.clone(),
            sling: self.sling,
            tucks: self.tucks.clone(),
            finish: self.finish.clone(),
            fid: self.fid.clone(),
            chance: self.chance.clone(),
            seed: self.seed.clone(),
            stripped_run: self.stripped_run.clone(),
            length: self.length.clone(),
            other_rope: self.other_rope.clone(),
            rope_length: self.rope_length.clone(),
            own: self.own.source()?,
            units: units.unwrap_or_default(),
        })
    }
}
