//! The statics of sails, booms and poles, one formula a function.
//!
//! Equations are textbook mechanics written out here; where a published
//! number stands in one, its source is beside it. All are for the steady
//! state: peaks are a factor on top, stated where it is applied.

use units::{Angle, Force, Length, Pressure};

/// Chordwise pull of a sail on its edge over the force on it: F / (8 camber).
///
/// A cylinder of small camber between luff and leech: the shallower the
/// section, the harder it pulls.
///
/// ```
/// assert_eq!(rig::chord_pull_share(0.10), 1.25);
/// ```
#[must_use]
pub fn chord_pull_share(camber: f64) -> f64 {
    1.0 / (8.0 * camber)
}

/// A straight edge under a uniform side load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Edge {
    /// Pressure on the cloth.
    pub pressure: Pressure,
    /// Mean chord, of which each edge holds half.
    pub chord: Length,
    /// Length of the edge.
    pub length: Length,
    /// Sag over the length.
    pub sag: f64,
}

/// Tension of a sagging edge, luff, leech or stay: T = p L² / (8 f), with the
/// side load p = pressure x chord / 2 and the sag f as a share of L.
///
/// ```
/// use rig::{Edge, edge_tension};
/// use units::{Length, Pressure};
/// // 100 N/m over 15 m with 0.15 m of sag: 18,750 N.
/// let stay = Edge {
///     pressure: Pressure::of_pa(100.0), chord: Length::of_m(2.0),
///     length: Length::of_m(15.0), sag: 0.01,
/// };
/// assert!((edge_tension(&stay).to_n() - 18_750.0).abs() < 1e-6);
/// ```
#[must_use]
pub fn edge_tension(edge: &Edge) -> Force {
    let load_per_m = edge.pressure.to_pa() * edge.chord.to_m() / 2.0;
    Force::of_n(load_per_m * edge.length.to_m() / (8.0 * edge.sag))
}

/// Pull at the ends of that edge, where it is greatest: its tension along the
/// chord and half the side load across it.
///
/// ```
/// use rig::{Edge, edge_end_tension};
/// use units::{Length, Pressure};
/// let stay = Edge {
///     pressure: Pressure::of_pa(100.0), chord: Length::of_m(2.0),
///     length: Length::of_m(15.0), sag: 0.01,
/// };
/// assert!((edge_end_tension(&stay).to_n() - 18_765.0).abs() < 0.1);
/// ```
#[must_use]
pub fn edge_end_tension(edge: &Edge) -> Force {
    edge_tension(edge) * (4.0 * edge.sag).hypot(1.0)
}

/// Tension of the same edge when the side load grows evenly from nothing at
/// the head to twice its mean at the foot, as under a three-cornered sail:
/// T = w L² / (9 √3 f), with w the load at the foot and f the greatest sag,
/// which lies [`TAPERED_SAG_AT`] of the length from the head.
///
/// ```
/// use rig::{Edge, tapered_edge_tension};
/// use units::{Length, Pressure};
/// // Nothing to 100 N/m over 15 m with 0.15 m of sag: 9,622.5 N.
/// let stay = Edge {
///     pressure: Pressure::of_pa(100.0), chord: Length::of_m(1.0),
///     length: Length::of_m(15.0), sag: 0.01,
/// };
/// assert!((tapered_edge_tension(&stay).to_n() - 9_622.5).abs() < 0.1);
/// ```
#[must_use]
pub fn tapered_edge_tension(edge: &Edge) -> Force {
    edge_tension(edge) * (16.0 / (9.0 * 3.0_f64.sqrt()))
}

/// Where a tapered edge sags most, from its head, as a share of its length: 1/√3.
pub const TAPERED_SAG_AT: f64 = 0.577_350_269_189_625_8;

/// Pull on a halyard: the luff's tension and the leech's share along it.
#[must_use]
pub fn halyard(luff: Force, leech: Force, head_angle: Angle) -> Force {
    luff + leech * head_angle.cos()
}

/// The boom and what holds its outer end down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Boom {
    /// Mainsail luff.
    pub luff: Length,
    /// Mainsail foot.
    pub foot: Length,
    /// Tension of the leech.
    pub leech: Force,
}

impl Boom {
    /// Angle between leech and boom.
    #[must_use]
    pub fn leech_angle(&self) -> Angle {
        Angle::of_radians((self.luff / self.foot).atan())
    }

    /// Pull of a sheet straight down at a distance from the gooseneck, alone
    /// against the leech: moments about the gooseneck.
    ///
    /// # Source
    /// Method of LR Guidance Notes 2017, annex B 2.1 (its symbols bS, bM, FwS).
    ///
    /// ```
    /// use rig::Boom;
    /// use units::{Force, Length};
    /// let boom = Boom { luff: Length::of_m(13.0), foot: Length::of_m(4.5), leech: Force::of_kn(3.0) };
    /// assert!((boom.sheet(Length::of_m(4.5)).to_n() - 2834.96).abs() < 0.01);
    /// ```
    #[must_use]
    pub fn sheet(&self, from_gooseneck: Length) -> Force {
        self.leech * (self.leech_angle().sin() * (self.foot / from_gooseneck))
    }

    /// Pull of the vang alone against the leech, fastened along the boom and
    /// down the mast at the distances given from the gooseneck.
    ///
    /// ```
    /// use rig::Boom;
    /// use units::{Force, Length};
    /// let boom = Boom { luff: Length::of_m(13.0), foot: Length::of_m(4.5), leech: Force::of_kn(3.0) };
    /// let pull = boom.vang(Length::of_m(1.5), Length::of_m(1.2));
    /// assert!((pull.to_n() - 13_614.4).abs() < 0.1);
    /// ```
    #[must_use]
    pub fn vang(&self, along_boom: Length, down_mast: Length) -> Force {
        let angle = (down_mast / along_boom).atan();
        self.leech * (self.leech_angle().sin() * (self.foot / along_boom) / angle.sin())
    }

    /// Pull of the outhaul: the leech's share along the boom, and the foot.
    #[must_use]
    pub fn outhaul(&self, foot_tension: Force) -> Force {
        self.leech * self.leech_angle().cos() + foot_tension
    }

    /// What a reef line holds at the clew: leech and foot together.
    #[must_use]
    pub fn reef_clew(&self, foot_tension: Force) -> Force {
        let down = self.leech * self.leech_angle().sin();
        let out = self.outhaul(foot_tension);
        Force::of_n(down.to_n().hypot(out.to_n()))
    }
}

/// Tension of an after stay that holds a fore stay: horizontal balance at
/// the masthead, angles from the mast.
///
/// ```
/// use units::{Angle, Force};
/// let fore = Angle::of_radians((5.0f64 / 16.0).atan());
/// let aft = Angle::of_radians((5.5f64 / 16.0).atan());
/// let backstay = rig::stay_balance(Force::of_kn(20.0), fore, aft);
/// assert!((backstay.to_n() - 18_350.9).abs() < 0.1);
/// ```
#[must_use]
pub fn stay_balance(fore_tension: Force, fore: Angle, aft: Angle) -> Force {
    fore_tension * (fore.sin() / aft.sin())
}

/// A gaff and the halyard that peaks it up; angles in its own plane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GaffRig {
    /// The gaff off upright.
    pub gaff: Angle,
    /// The leech off upright, leaning aft from peak to clew.
    pub leech_off_upright: Angle,
    /// Where the peak halyard holds the gaff, over its length from the jaws.
    pub bridle: f64,
    /// The peak halyard off the gaff.
    pub halyard_off_gaff: Angle,
}

impl GaffRig {
    /// Pull of the peak halyard: moments about the jaws.
    ///
    /// ```
    /// use rig::GaffRig;
    /// use units::{Angle, Force};
    /// // A level gaff, the leech plumb below its end, the halyard plumb above it.
    /// let gaff = GaffRig {
    ///     gaff: Angle::of_degrees(90.0), leech_off_upright: Angle::ZERO,
    ///     bridle: 1.0, halyard_off_gaff: Angle::of_degrees(90.0),
    /// };
    /// assert!((gaff.peak(Force::of_kn(2.0)).to_kn() - 2.0).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn peak(&self, leech: Force) -> Force {
        // The leech runs down and aft from the peak: off the gaff's line
        // produced by their two leans together.
        let leech_off_gaff = self.gaff + self.leech_off_upright;
        leech * (leech_off_gaff.sin().abs() / (self.bridle * self.halyard_off_gaff.sin()))
    }

    /// Pull of the throat halyard: the luff, and what of the leech's pull down
    /// the peak halyard does not lift; at least the luff.
    #[must_use]
    pub fn throat(&self, luff: Force, leech: Force) -> Force {
        let lifted = self.peak(leech) * (self.gaff - self.halyard_off_gaff).cos();
        let down = leech * self.leech_off_upright.cos();
        (luff + down - lifted).max(luff)
    }
}

/// Push of a sheet on its car along the track, where the sheet comes in along
/// the track and is turned: T (1 - cos turn).
///
/// ```
/// use units::{Angle, Force};
/// let push = rig::car_push(Force::of_n(1000.0), Angle::of_degrees(60.0));
/// assert!((push.to_n() - 500.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn car_push(sheet: Force, turn: Angle) -> Force {
    sheet * (1.0 - turn.cos())
}

/// Compression of the pole: guy and tack pull along it.
///
/// ```
/// use units::{Angle, Force};
/// let push = rig::pole_compression(Force::of_kn(1.0), Force::of_kn(2.0), Angle::of_degrees(60.0), Angle::of_degrees(60.0));
/// assert!((push.to_kn() - 1.5).abs() < 1e-12);
/// ```
#[must_use]
pub fn pole_compression(tack_pull: Force, guy_pull: Force, tack: Angle, guy: Angle) -> Force {
    guy_pull * guy.cos() + tack_pull * tack.cos()
}

/// The pole's outer end: guy from the tack's pull.
///
/// `tack` is the angle between the sail's pull and the pole, `guy` the angle
/// between guy and pole.
#[must_use]
pub fn guy(tack_pull: Force, tack: Angle, guy: Angle) -> Force {
    tack_pull * (tack.sin() / guy.sin())
}
