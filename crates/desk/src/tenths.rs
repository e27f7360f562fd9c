//! What a tenth more or less of each main input does to a line: to its load,
//! and to the rope, the weak point and the verdict that follow from it.

use crate::job::{Job, JobLine, made_with};
use crate::wire::Amount;
use rig::{MainInput, Sweep};
use schemars::JsonSchema;
use serde::Serialize;

/// What a tenth of one input does.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct TenthAnswer {
    /// The input.
    pub input: &'static str,
    /// A tenth less of it.
    pub less: OtherwiseAnswer,
    /// A tenth more.
    pub more: OtherwiseAnswer,
}

/// A line worked out again.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct OtherwiseAnswer {
    /// Steady pull.
    pub steady: Amount,
    /// Steady pull over what it was.
    pub over: f64,
    /// The rope then taken, where it is another.
    pub rope: Option<String>,
    /// The weak point that then governs, where it is another.
    pub weak_point: Option<String>,
    /// The verdict, where it is another.
    pub verdict: Option<&'static str>,
}

impl OtherwiseAnswer {
    /// Does the choice move?
    #[must_use]
    pub fn moves(&self) -> bool {
        self.rope.is_some() || self.weak_point.is_some() || self.verdict.is_some()
    }

    /// What moves, in words; empty where nothing does.
    #[must_use]
    pub fn words(&self) -> String {
        let rope = self.rope.as_ref().map(|rope| format!("takes {rope}"));
        let weak = self.weak_point.as_ref().map(|place| format!("weak at {place}"));
        let verdict = self.verdict.map(|verdict| format!("verdict {verdict}"));
        [rope, weak, verdict].into_iter().flatten().collect::<Vec<_>>().join(", ")
    }
}

/// The sweeps of a boat with each input a tenth less and a tenth more.
pub(crate) struct Tenths(Vec<(MainInput, [Sweep; 2])>);

/// Less than this share of the load is no effect.
const FELT: f64 = 0.002;

impl Tenths {
    /// Every main input, and every unpublished one that some line feels.
    pub(crate) fn of(job: &Job, lines: &[&JobLine]) -> Tenths {
        let felt =
            |input: &rig::Input| lines.iter().any(|line| line.load.effects.iter().any(|effect| effect.input == *input));
        // Given by a sail, they have no range of their own, and still a tenth.
        let always = [rig::Input::MainLeechSag, rig::Input::JibCamber];
        let unpublished = rig::Input::ALL.into_iter().filter(|input| felt(input) || always.contains(input));
        let all = MainInput::MEASURED.into_iter().chain(unpublished.map(MainInput::Unpublished));
        Tenths(all.map(|input| (input, [0.9, 1.1].map(|factor| job.sweep.scaled(input, factor)))).collect())
    }

    /// What each does to a line; those that do nothing are left out.
    pub(crate) fn line(&self, job: &Job, line: &JobLine) -> Vec<TenthAnswer> {
        let of = |(input, sweeps): &(MainInput, [Sweep; 2])| {
            let [less, more] = sweeps;
            let (less, more) = (otherwise(job, line, less)?, otherwise(job, line, more)?);
            let felt = [&less, &more].iter().any(|other| (other.over - 1.0).abs() > FELT);
            felt.then_some(TenthAnswer { input: input.words(), less, more })
        };
        self.0.iter().filter_map(of).collect()
    }
}

fn otherwise(job: &Job, line: &JobLine, sweep: &Sweep) -> Option<OtherwiseAnswer> {
    let load = sweep.line(&line.setup).ok()?;
    let over = load.steady / line.load.steady;
    let made = if (over - 1.0).abs() > FELT { made_with(job, line, &load) } else { None };
    let weak = |made: &makeup::MadeUp| made.weak_points.first().map(|point| point.place.clone());
    let grade = |made: &makeup::MadeUp| made.grade().map_or("pass", sources::Grade::word);
    let made = made.as_ref();
    Some(OtherwiseAnswer {
        steady: Amount::of(load.steady, job.system),
        over,
        rope: made.filter(|made| made.rope.name != line.made.rope.name).map(|made| made.rope.name.clone()),
        weak_point: made.filter(|made| weak(made) != weak(&line.made)).and_then(weak),
        verdict: made.map(grade).filter(|verdict| *verdict != grade(&line.made)),
    })
}
