//! Every source the program takes a number from, once.
//!
//! `xtask tidy` checks that each is used by some room.

use crate::{Kind, Source};

macro_rules! sources {
    ($( $(#[$doc:meta])* $name:ident = $id:literal, $kind:ident, $title:literal, $body:literal, $year:literal; )+) => {
        $(
            $(#[$doc])*
            pub static $name: Source =
                Source { id: $id, title: $title, body: $body, year: $year, kind: Kind::$kind };
        )+
        static ALL: &[&Source] = &[$(&$name),+];
    };
}

/// Every source, in the order of this file.
#[must_use]
pub fn registry() -> &'static [&'static Source] {
    ALL
}

sources! {
    /// What the trade does without a publication.
    COMMON_PRACTICE = "common-practice", CommonPractice, "common practice, no source", "the trade", "";
    /// What the user wrote in an order, list or command.
    GIVEN = "given", Given, "given in the order", "the user", "";
    /// Our own derivation from statics or geometry, or a choice of ours.
    OURS = "becket", Ours, "our own derivation", "this project", "";
    /// Mathematics and definitions of units.
    EXACT = "exact", Exact, "definition", "mathematics", "";
    /// Sail coefficients, wind gradient, areas and centroids of the rating rule.
    ORC_VPP_2023 = "orc-vpp-2023", Secondary, "ORC VPP Documentation 2023", "Offshore Racing Congress", "2023";
    /// Sail coefficients and sail plan geometry of the textbook.
    HAZEN_1980 = "hazen-1980", Secondary, "Hazen 1980, in Larsson & Eliasson, Principles of Yacht Design", "G. Hazen", "1980/2004";
    /// Moments about the gooseneck, stability cap by the vessel's reaction.
    LR_MASTS_2017 = "lr-masts-2017", Standard, "Guidance Notes for the Certification of Masts, Spars and Standing Rigging", "Lloyd's Register", "2017";
    /// Wind-tunnel and full-scale flying shapes and load swings of a spinnaker.
    DEPARDAY_2016 = "deparday-2016", Secondary, "Deparday, Experimental studies of fluid-structure interaction on downwind sails", "J. Deparday", "2016";
    /// Righting moment at 30 degrees against waterline length.
    SKENE = "skene-toss", Secondary, "Skene's graph of righting moment, in Toss, The Complete Rigger's Apprentice", "N. L. Skene", "";
    /// Per-sheave factors of wire tackles.
    WRTB_4 = "wrtb-users-manual-4", Handbook, "Wire Rope Users Manual, 4th ed.", "Wire Rope Technical Board", "";
    /// Measured efficiency of rope tackles.
    SPON = "spon-workshop-receipts", Handbook, "Spon's Workshop Receipts, 5th series", "E. & F. N. Spon", "";
    /// Ten-per-cent rule of tackles.
    NICHOLLS = "nicholls-seamanship", Handbook, "Nicholls's Seamanship and Nautical Knowledge", "Brown, Son & Ferguson", "";
    /// Capstan friction of kernmantle on metals.
    DELANEY_2022 = "delaney-2022", Handbook, "Physics for Roping Technicians", "R. Delaney", "2022";
    /// Winch ratios and what is really pulled.
    WINCH_RATIOS = "ps-winch-ratios", Secondary, "Practical Sailor, Winches: Ratios and Reality", "Practical Sailor", "";
    /// Sheet lengths by boat length.
    SAILING_2015 = "sailing-2015-lengths", Handbook, "SAILING Magazine, How long should running rigging be?", "SAILING Magazine", "Jul 2015";
    /// Polypropylene, 3- and 8-strand.
    CI_1301 = "ci-1301", Secondary, "Cordage Institute CI 1301 (as attributed)", "Cordage Institute", "1990s";
    /// Polyester and polyolefin mixed, 3- and 8-strand.
    CI_1302 = "ci-1302", Secondary, "Cordage Institute CI 1302 (as attributed)", "Cordage Institute", "1990s";
    /// Polyamide, 3- and 8-strand.
    CI_1303 = "ci-1303", Secondary, "Cordage Institute CI 1303 (as attributed)", "Cordage Institute", "1990s";
    /// Polyester, 3- and 8-strand.
    CI_1304 = "ci-1304", Secondary, "Cordage Institute CI 1304 (as attributed)", "Cordage Institute", "1990s";
    /// Manila, 3-strand.
    CI_1308 = "ci-1308-96", Secondary, "Cordage Institute CI 1308-96", "Cordage Institute", "1996";
    /// Safe use of fibre rope: design factors, knots.
    CI_1401 = "ci-1401", Secondary, "Cordage Institute CI 1401", "Cordage Institute", "2006/2015";
    /// Double-braid polyamide, average strength, stiffness, mooring design.
    UFC_4_159_03 = "ufc-4-159-03", Standard, "UFC 4-159-03 Design: Moorings", "US Department of Defense", "2005";
    /// Yarn strength, stiffness and specific gravity.
    TTI_YARN = "tti-yarn-table-1", Paper, "Synthetic fibre yarn properties, deep-water mooring paper", "rope-engineering group", "1990s";
    /// Stiffness and mass of offshore fibre ropes.
    MOORPY = "nrel-moorpy", Paper, "MoorPy mooring property coefficients", "NREL", "2025";
    /// Linear density of HMPE 12-strand in a draft of the standard.
    ISO_10325_DRAFT = "iso-10325-draft", Secondary, "draft text of ISO 10325", "ISO", "2025";
    /// Fibre ropes, test method: reference tension, bedding, bollards, sampling.
    ISO_2307 = "iso-2307-2010", Secondary, "ISO 2307", "ISO", "2010";
    /// Reference tension formula of the test method, not read.
    ISO_2307_MEMORY = "iso-2307-annex-a", FromMemory, "ISO 2307 Annex A, reference tension", "ISO", "";
    /// Spliced against unspliced strength of mooring rope.
    MEG2 = "ocimf-meg2", Standard, "OCIMF Mooring Equipment Guidelines, 2nd ed.", "OCIMF", "1997";
    /// Tucks, tails and eye angle of slings.
    CFR_1926_251 = "29-cfr-1926-251", Standard, "29 CFR 1926.251(d)(4)", "OSHA", "";
    /// Tucks of 3-strand splices in the navy.
    NAVEDTRA_14325 = "navedtra-14325", Handbook, "NAVEDTRA 14325 Basic Military Requirements", "US Navy", "";
    /// Overload that damages a line.
    NAVEDTRA_14160 = "navedtra-14160", Handbook, "NAVEDTRA 14160", "US Navy", "";
    /// Splices by fid lengths, lock stitch, short splice.
    MERRY = "merry-splicing-handbook", Handbook, "Merry, The Splicing Handbook", "B. Merry", "";
    /// Unlay of a short splice.
    FRY = "fry-knots", Handbook, "Fry, Knots and Ropework", "E. Fry", "";
    /// Bury of HMPE, lock stitching and its extent.
    PS_SPLICE = "ps-short-splice", Secondary, "Practical Sailor, PS Advisor: short splice or lashing", "Practical Sailor", "";
    /// Break tests of tapered and blunt buries.
    BREAKS_2009 = "hollow-braid-breaks-2009", Measured, "break tests of hollow braid, tapered and blunt (n = 6)", "a forum author's rig", "2009";
    /// Tests of 6 mm HMPE buries.
    BREAKS_HMPE_6 = "hmpe-6mm-breaks", Measured, "break tests of 6 mm HMPE buries (n = 3 each)", "independent write-up", "";
    /// Double-braid eyes rotated on a bollard.
    BITTING_1982 = "uscg-bitting-1982", Paper, "Rotational Loading of Double-Braid Line Eye Splices, AD-A118911", "K. R. Bitting, US Coast Guard", "1982";
    /// Knots and slings in 12-strand HMPE.
    OSU_2001 = "osu-skyline-2001", Paper, "Synthetic rope end connections, Skyline Symposium", "Oregon State University", "2001";
    /// Friction of textile fibres.
    TEXTILE_NOTES = "textile-friction-notes", Secondary, "textile lecture notes on fibre friction", "after Morton & Hearle", "";
    /// Minimum strengths of running rigging of passenger sailing vessels.
    EU_2006_87 = "eu-2006-87", Standard, "Directive 2006/87/EC, Annex II ch. 15a", "European Union", "2006";
    /// Ground-tackle design loads.
    ABYC_H40 = "abyc-h-40", Secondary, "ABYC H-40 Anchoring, Mooring and Strong Points", "ABYC", "2003";
    /// Beam rows of the same table, not read.
    ABYC_H40_BEAM = "abyc-h-40-beam", FromMemory, "ABYC H-40, rows by beam", "ABYC", "2003";
    /// Regain, melting points and densities from handbooks not re-read.
    FIBRE_MEMORY = "fibre-handbook-memory", FromMemory, "fibre handbooks (McKenna, Hearle & O'Hear 2004)", "", "";
    /// Offshore lifts with fibre slings.
    GL_0027 = "gl-0027", Standard, "GL Noble Denton 0027/ND Rev 11", "GL Noble Denton", "2016";
    /// Eye of a mooring line against its fitting.
    NSTM_613 = "nstm-613", Secondary, "Naval Ships' Technical Manual, chapter 613", "US Navy", "";
    /// Tucks of synthetic rope in the navy.
    NAVEDTRA_14067 = "navedtra-14067", Handbook, "NAVEDTRA 14067", "US Navy", "";
    /// Apparent wind, as an open library of sailing aerodynamics tests it.
    OPEN_AERODYNAMICS_2020 = "open-aerodynamics-2020", Secondary, "published tests of an open library of sailing aerodynamics", "", "2020";
    /// Efficiency of sheaves on plain pins.
    PIPELINE_RULES = "pipeline-rules-of-thumb", Handbook, "Pipeline Rules of Thumb Handbook", "", "";
    /// Regression of righting moments of yacht hulls.
    GERRITSMA_1993 = "gerritsma-1993", Secondary, "Gerritsma et al. 1993, stability regression, as coded in an open library", "J. Gerritsma", "1993";
    /// Wind pressure constant in US units.
    ASCE_7 = "asce-7", FromMemory, "ASCE 7, wind pressure constant", "ASCE", "";
    /// Tension of a braided sleeve under pressure.
    CHOU_HANNAFORD_1996 = "chou-hannaford-1996", Secondary, "Chou & Hannaford, braided pneumatic muscle; formula as in textbooks", "IEEE", "1996";
    /// Friction of fibres that falls with load.
    HOWELL_MAZUR_1953 = "howell-mazur-1953", Secondary, "Howell & Mazur, friction against load, in a thesis", "", "1953";
    /// A fid for double braid: where the cover is marked.
    BLUE_WATER_2013 = "blue-water-sailing-2013", Secondary, "Blue Water Sailing, double-braid eye splice", "", "Apr 2013";
    /// Working loads of unmarked cordage.
    CFR_393_108 = "49-cfr-393-108", Standard, "49 CFR 393.108", "US DOT", "";
    /// Manila slings, a table since withdrawn.
    CFR_1910_184 = "29-cfr-1910-184", Standard, "29 CFR 1910.184, table N-184-16, as it was", "OSHA", "";
    /// Natural-fibre slings.
    CFR_1918 = "29-cfr-1918-app-ii", Standard, "29 CFR 1918 Appendix II", "OSHA", "";
    /// Older strengths of laid rope.
    CI_1970S = "ci-1970s", Secondary, "laid rope table believed to be of the Cordage Institute", "", "1970s";
    /// Reference tension in an older standard.
    GB_10028 = "gb-10028-88", Secondary, "GB 10028-88, equal to ISO 1969:1976", "", "1988";
    /// Reference tension of US practice, not read.
    CI_1500 = "ci-1500", FromMemory, "Cordage Institute CI 1500, initial reference tension", "Cordage Institute", "";
    /// Bin packing of triplets, as a library of instances tells it.
    FALKENAUER_1996 = "falkenauer-1996", Secondary, "Falkenauer 1996, triplets, in BPPLIB (Delorme, Iori & Martello)", "E. Falkenauer", "1996/2018";
    /// A general-purpose solver's optimum of instances drawn here.
    SCIPY_HIGHS = "scipy-highs", Measured, "HiGHS through scipy.optimize.milp 1.17, on patterns listed in full", "open source", "2026";
    /// Cutting-stock examples that textbooks and encyclopaedias print.
    CUTTING_EXAMPLES = "cutting-stock-examples", FromMemory, "cutting-stock examples of textbooks", "", "";
    /// Tolerance factors, fits, control charts, outliers.
    NIST_HANDBOOK = "nist-sematech", Handbook, "NIST/SEMATECH e-Handbook of Statistical Methods", "NIST", "2012";
    /// Statistics of strengths of fibrous materials: Weibull limits and fits.
    MIL_HDBK_17 = "mil-hdbk-17-1f", Secondary, "MIL-HDBK-17-1F, chapter 8", "US Department of Defense", "2002";
    /// The loft's own tests, measurements and times.
    LOFT = "loft", Given, "the loft's own record", "the loft", "";
    /// When rope slings are withdrawn.
    DGUV_109_006 = "dguv-109-006", Standard, "DGUV Regel 109-006, section 5", "DGUV", "";
    /// Wear limits of rope by construction.
    CI_2001 = "ci-2001", Secondary, "Cordage Institute CI 2001, in a summary of the trade", "Cordage Institute", "2004";
    /// Mooring lines: residual strength, records.
    MEG4 = "ocimf-meg4", Secondary, "OCIMF Mooring Equipment Guidelines, 4th ed.", "OCIMF", "2018";
    /// Use, inspection and retirement of fibre rope.
    ISO_9554 = "iso-9554-2010", Secondary, "ISO 9554, annex C", "ISO", "2010";
    /// Permanent stretch at which HMPE mooring rope is discarded.
    OFFSHORE_2012 = "offshore-2012", Secondary, "Offshore Magazine, discard limits of HMPE rope as quoted", "Offshore Magazine", "Aug 2012";
    /// Activation energy and volume of HMPE creep.
    OCONNOR_ROBBINS_2020 = "oconnor-robbins-2020", Paper, "O'Connor & Robbins, J. Chem. Phys. 153, 144904", "T. C. O'Connor, M. O. Robbins", "2020";
    /// Margin on the life of fibre rope to creep failure.
    DNV_E303 = "dnv-os-e303", Standard, "DNV-OS-E303 Offshore Fibre Ropes", "DNV", "2013";
    /// Ropes soaked an hour and dripped ten minutes.
    WATER_2011 = "rope-water-2011", Measured, "Rope Water Absorption Tests, soaked 1 h, dripped 10 min (n = 3)", "T. Jones", "Jul 2011";
    /// A general-purpose library's noncentral t, fits and statistics.
    SCIPY_STATS = "scipy-stats", Measured, "scipy.stats 1.17, distributions and tests", "open source", "2026";
    /// Factors of one-sided tolerance limits, as a table is quoted.
    NRC_TOLERANCE = "nrc-one-sided-tolerance", Secondary, "Factors for one-sided tolerance limits, ML14031A495, as quoted", "US NRC", "";
    /// Worked examples of the handbook whose pages were not read again.
    NIST_MEMORY = "nist-sematech-memory", FromMemory, "NIST/SEMATECH e-Handbook, examples not read again", "NIST", "2012";
    /// Basis-value factors of the handbook, not read again.
    MIL_HDBK_17_MEMORY = "mil-hdbk-17-memory", FromMemory, "MIL-HDBK-17-1F, table of one-sided B-basis factors", "US Department of Defense", "2002";
}
