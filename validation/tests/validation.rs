//! Every case, source by source, each also with its mistake made; the counts
//! that are asked of them; and the report, which must be up to date.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on fails")]

use std::collections::{BTreeMap, BTreeSet};
use validation::case::Case;
use validation::expected::Expected;
use validation::mutation::Mutation;
use validation::run::{load, run, run_mutated};

fn cases() -> Vec<Case> {
    load(&validation::folder().join("cases")).unwrap_or_else(|fault| panic!("{fault}"))
}

/// A test for each source, with the number of its cases: one that goes missing
/// is missed.
macro_rules! by_source {
    ($($name:ident: $id:literal, $count:literal;)+) => {
        const COUNTED: &[&str] = &[$($id),+];
        $(
            #[test]
            fn $name() {
                assert_source($id, $count);
            }
        )+
    };
}

by_source! {
    cfr_29_cfr_1910_184: "29-cfr-1910-184", 3;
    cfr_29_cfr_1918_app_ii: "29-cfr-1918-app-ii", 1;
    cfr_29_cfr_1926_251: "29-cfr-1926-251", 6;
    cfr_49_cfr_393_108: "49-cfr-393-108", 4;
    abyc_h_40: "abyc-h-40", 4;
    asce_7: "asce-7", 1;
    blue_water_sailing_2013: "blue-water-sailing-2013", 1;
    chou_hannaford_1996: "chou-hannaford-1996", 3;
    ci_1301: "ci-1301", 1;
    ci_1302: "ci-1302", 1;
    ci_1303: "ci-1303", 2;
    ci_1304: "ci-1304", 2;
    ci_1308_96: "ci-1308-96", 2;
    ci_1401: "ci-1401", 3;
    ci_1500: "ci-1500", 1;
    ci_1970s: "ci-1970s", 2;
    common_practice: "common-practice", 1;
    cutting_stock_examples: "cutting-stock-examples", 2;
    delaney_2022: "delaney-2022", 5;
    deparday_2016: "deparday-2016", 1;
    exact: "exact", 51;
    eu_2006_87: "eu-2006-87", 7;
    falkenauer_1996: "falkenauer-1996", 3;
    fry_knots: "fry-knots", 1;
    gb_10028_88: "gb-10028-88", 1;
    gerritsma_1993: "gerritsma-1993", 1;
    gl_0027: "gl-0027", 2;
    hmpe_6mm_breaks: "hmpe-6mm-breaks", 3;
    hollow_braid_breaks_2009: "hollow-braid-breaks-2009", 2;
    howell_mazur_1953: "howell-mazur-1953", 2;
    iso_10325_draft: "iso-10325-draft", 3;
    iso_2307_2010: "iso-2307-2010", 9;
    iso_2307_annex_a: "iso-2307-annex-a", 1;
    navedtra_14067: "navedtra-14067", 1;
    navedtra_14160: "navedtra-14160", 1;
    navedtra_14325: "navedtra-14325", 2;
    nicholls_seamanship: "nicholls-seamanship", 5;
    nrel_moorpy: "nrel-moorpy", 6;
    nstm_613: "nstm-613", 1;
    ocimf_meg2: "ocimf-meg2", 4;
    open_aerodynamics_2020: "open-aerodynamics-2020", 4;
    oconnor_robbins_2020: "oconnor-robbins-2020", 2;
    orc_vpp_2023: "orc-vpp-2023", 12;
    pipeline_rules_of_thumb: "pipeline-rules-of-thumb", 1;
    ps_short_splice: "ps-short-splice", 3;
    ps_winch_ratios: "ps-winch-ratios", 1;
    rope_water_2011: "rope-water-2011", 3;
    sailing_2015_lengths: "sailing-2015-lengths", 2;
    scipy_highs: "scipy-highs", 12;
    skene_toss: "skene-toss", 2;
    spon_workshop_receipts: "spon-workshop-receipts", 3;
    tti_yarn_table_1: "tti-yarn-table-1", 3;
    ufc_4_159_03: "ufc-4-159-03", 5;
    nist_sematech: "nist-sematech", 3;
    nist_sematech_memory: "nist-sematech-memory", 3;
    nrc_one_sided_tolerance: "nrc-one-sided-tolerance", 1;
    mil_hdbk_17_memory: "mil-hdbk-17-memory", 6;
    dguv_109_006: "dguv-109-006", 2;
    ci_2001: "ci-2001", 3;
    offshore_2012: "offshore-2012", 1;
    scipy_stats: "scipy-stats", 11;
    wrtb_users_manual_4: "wrtb-users-manual-4", 2;
}

/// Each case hits, or misses where it is said to differ; and misses with its
/// mistake made.
fn assert_source(source: &str, count: usize) {
    let own: Vec<Case> = cases().into_iter().filter(|case| case.source.id == source).collect();
    assert_eq!(own.len(), count, "cases of {source}");
    let faults: Vec<String> = own.iter().flat_map(faults).collect();
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

fn faults(case: &Case) -> Vec<String> {
    let mut faults = Vec::new();
    match (run(case), case.differs.is_some()) {
        (Err(fault), _) => faults.push(format!("{}: {fault}", case.name)),
        (Ok(outcome), true) if outcome.hits() => faults.push(format!("{} hits and is said to differ", case.name)),
        (Ok(outcome), false) if !outcome.hits() => {
            faults.push(format!("{}: error {} x its tolerance", case.name, outcome.error));
        }
        _ => {}
    }
    match run_mutated(case, &case.mutation) {
        Err(fault) => faults.push(format!("{}, mistaken: {fault}", case.name)),
        Ok(outcome) if outcome.hits() => faults.push(format!("{} hits with {:?}", case.name, case.mutation)),
        Ok(_) => {}
    }
    faults
}

#[test]
fn there_is_enough_of_everything() {
    let cases = cases();
    let all: BTreeSet<&str> = cases.iter().map(|case| case.source.id).collect();
    assert_eq!(all, COUNTED.iter().copied().collect(), "each source has its test above");
    // Cases that differ from their source do not count here.
    let outside: Vec<&Case> = cases.iter().filter(|case| case.is_outside() && case.differs.is_none()).collect();
    let sources: BTreeSet<&str> = outside.iter().map(|case| case.source.id).collect();
    assert!(outside.len() >= 70 && sources.len() >= 14, "{} of {} sources", outside.len(), sources.len());
    for room in ["rig", "cordage", "splice", "cutting"] {
        let own = outside.iter().filter(|case| case.room == room).count();
        assert!(own >= 9, "{room}: {own}");
    }
    let computing = outside.iter().filter(|case| case.computes).count();
    assert!(2 * computing >= outside.len(), "{computing} of {} compute", outside.len());
    let mut tables: BTreeMap<(&str, &str), usize> = BTreeMap::new();
    for case in &outside {
        *tables.entry(case.table()).or_default() += 1;
    }
    for (table, count) in tables {
        assert!(count <= 6, "{table:?}: {count}");
    }
}

/// Every row of every published table read: asked of the program, or kept with
/// the case, the test or the reason that stands for it.
#[test]
fn every_row_of_the_tables_is_asked_or_has_its_reason() {
    let cases = cases();
    let tables = validation::rows::load(&validation::folder().join("rows")).unwrap_or_else(|fault| panic!("{fault}"));
    assert_eq!((tables.len(), tables.iter().map(|table| table.rows.len()).sum::<usize>()), ROWS);
    let mut faults = Vec::new();
    for table in &tables {
        for row in &table.rows {
            match &row.stands {
                validation::rows::Stands::Asked(case) => {
                    match run(case) {
                        Ok(outcome) if outcome.hits() => {}
                        Ok(outcome) => faults.push(format!("{}: error {} x its tolerance", case.name, outcome.error)),
                        Err(fault) => faults.push(format!("{}: {fault}", case.name)),
                    }
                    if !a_mistake_is_seen(case) {
                        faults.push(format!("{}: a mistake is not seen", case.name));
                    }
                }
                validation::rows::Stands::Case(name) => {
                    if !cases.iter().any(|case| case.name == *name) {
                        faults.push(format!("{}, {}: no case {name}", table.name, row.key));
                    }
                }
                validation::rows::Stands::Test(_) | validation::rows::Stands::Reason(_) => {}
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// The row's own mistake; where that is made in an answer of nought, which
/// doubled is a nought, the same in each of the others. A row of noughts has none.
fn a_mistake_is_seen(case: &Case) -> bool {
    let nought = |expected: &Expected| {
        expected.printed().and_then(validation::amount::read).is_some_and(|amount| amount.si == 0.0)
    };
    let seen = |on: &String| {
        let mutation = Mutation { on: on.clone(), ..case.mutation.clone() };
        run_mutated(case, &mutation).is_ok_and(|outcome| !outcome.hits())
    };
    let own = &case.mutation.on;
    let (noughts, others): (Vec<_>, Vec<_>) = case.expect.iter().partition(|(_, expected)| nought(expected));
    if others.is_empty() || noughts.iter().any(|(on, _)| on == own) {
        return others.iter().all(|(on, _)| seen(on));
    }
    seen(own)
}

/// Tables and rows: one that goes missing is missed.
const ROWS: (usize, usize) = (48, 872);

#[test]
fn the_report_is_up_to_date() {
    let written = std::fs::read_to_string(validation::folder().join("REPORT.md")).unwrap();
    let tables = validation::rows::load(&validation::folder().join("rows")).unwrap_or_else(|fault| panic!("{fault}"));
    let report = validation::report::report(&cases(), &tables).unwrap_or_else(|fault| panic!("{fault}"));
    assert!(written == report, "REPORT.md is out of date: cargo run -p validation");
}

#[test]
fn the_boat_by_hand_carries_what_the_program_says() {
    let (page, loads) = validation::by_hand::document().unwrap_or_else(|fault| panic!("{fault}"));
    let sweep = rig::Sweep::of(validation::by_hand::question());
    assert_eq!(loads.len(), 14);
    for load in loads {
        let found = sweep.line(&validation::by_hand::setup(load.kind, load.parts)).unwrap();
        for (hand, program) in [(load.steady, found.steady), (load.hauling, found.hauling), (load.peak, found.peak)] {
            let apart = (hand / program.to_n() - 1.0).abs();
            assert!(apart < 1e-6, "{}: {hand} by hand, {program}", load.name);
        }
    }
    let written = std::fs::read_to_string(validation::folder().join("../docs/a-boat-by-hand.md")).unwrap();
    assert!(written == page, "docs/a-boat-by-hand.md is out of date: cargo run -p validation");
}
