//! Answers that were worked out, held until the room is needed.
//!
//! An answer depends on its request and on nothing else, so it is held under
//! the content of the request: the text of the order and of the rope list,
//! units, widths and whatever else was asked. An order that is saved anew, or
//! a list that is changed, is another request, and nothing has to be thrown
//! away when it changes. Who asks for what is being worked out waits for that
//! one piece of work, and work goes on when who asked has gone.
//!
//! What is held is bounded by its weight as JSON; what was not asked for
//! longest goes first. A refusal is held like an answer. Work that was
//! interrupted, or that the machine refused, is not. Files on disk are read anew each time.

use crate::pages::interrupted;
use crate::view::WIDTHS_MM;
use desk::{
    BenchAnswer, BoatAnswer, Fault, LineDrawn, LinesAnswer, LinesRequest, OwnSource, Paper, PieceListed, Problem,
    SpliceDrawn, SpliceRequest, System, Text, Variant,
};
use serde::Serialize;
use sha2::{Digest, Sha256};
use std::any::Any;
use std::collections::HashMap;
use std::io::Write;
use std::sync::{Arc, Mutex, PoisonError};
use tokio::sync::{OnceCell, Semaphore};

/// Weight of all that is held, bytes of JSON.
const MOST: usize = 64 * 1024 * 1024;
/// Answers held at once, however light.
const MOST_ANSWERS: usize = 4096;
/// Work done at once: as many as a bench's machine has cores to spare, so
/// that the first of many questions is answered before the last is begun.
static AT_ONCE: Semaphore = Semaphore::const_new(4);
/// Papers set at once: they take longest, and pages go before them.
static PAPERS_AT_ONCE: Semaphore = Semaphore::const_new(1);

type Name = [u8; 32];
type Ready = Result<Arc<dyn Any + Send + Sync>, Problem>;

/// The answers held.
#[derive(Debug, Clone)]
pub(crate) struct Answers(Arc<Mutex<Shelf>>);

#[derive(Debug)]
struct Shelf {
    held: HashMap<Name, Held>,
    turn: u64,
    weight: usize,
    most: usize,
}

#[derive(Debug)]
struct Held {
    answer: Arc<OnceCell<Ready>>,
    asked: u64,
    weight: usize,
}

/// Work under the content that it depends on.
struct Work<T> {
    name: Option<Name>,
    weigh: fn(&T) -> usize,
    turns: &'static Semaphore,
}

impl Default for Answers {
    fn default() -> Self {
        Answers::of_weight(MOST)
    }
}

impl Answers {
    fn of_weight(most: usize) -> Answers {
        Answers(Arc::new(Mutex::new(Shelf { held: HashMap::new(), turn: 0, weight: 0, most })))
    }

    /// [`desk::boat`].
    pub(crate) async fn boat(&self, order: &Text, units: Option<System>) -> Result<Arc<BoatAnswer>, Problem> {
        let work = Work::light(name("boat", &units, [Some(order)]));
        let order = order.clone();
        self.of(work, move || desk::boat(&order, units)).await
    }

    /// [`desk::lines`].
    pub(crate) async fn lines(&self, request: LinesRequest) -> Result<Arc<LinesAnswer>, Problem> {
        self.of(Work::light(of_lines("lines", &request, &())), move || desk::lines(&request)).await
    }

    /// [`desk::line_drawn`] at the widths of the pages.
    pub(crate) async fn line_drawn(&self, request: LinesRequest) -> Result<Arc<LineDrawn>, Problem> {
        let work = Work::light(of_lines("line drawn", &request, &WIDTHS_MM));
        self.of(work, move || desk::line_drawn(&request, &WIDTHS_MM)).await
    }

    /// [`desk::order_pieces`].
    pub(crate) async fn pieces(&self, request: LinesRequest) -> Result<Arc<Vec<PieceListed>>, Problem> {
        self.of(Work::light(of_lines("pieces", &request, &())), move || desk::order_pieces(&request)).await
    }

    /// [`desk::bench`] at the widths of the pages.
    pub(crate) async fn bench(&self, request: LinesRequest, code: &str) -> Result<Arc<BenchAnswer>, Problem> {
        let work = Work::light(of_lines("bench", &request, &(code, WIDTHS_MM)));
        let code = code.to_owned();
        self.of(work, move || desk::bench(&request, &code, &WIDTHS_MM)).await
    }

    /// [`desk::cards_pdf`].
    pub(crate) async fn cards(
        &self,
        request: LinesRequest,
        piece: Option<String>,
        paper: Paper,
    ) -> Result<Arc<Vec<u8>>, Problem> {
        let name = of_lines("cards", &request, &(&piece, paper));
        let work = Work { name, weigh: Vec::len, turns: &PAPERS_AT_ONCE };
        self.of(work, move || desk::cards_pdf(&request, piece.as_deref(), paper)).await
    }

    /// [`desk::splice_drawn`] at the widths of the pages.
    pub(crate) async fn splice_drawn(&self, request: SpliceRequest) -> Result<Arc<SpliceDrawn>, Problem> {
        let work = Work::light(of_splice("splice drawn", &request, &WIDTHS_MM));
        self.of(work, move || desk::splice_drawn(&request, &WIDTHS_MM)).await
    }

    /// [`desk::compare`].
    pub(crate) async fn compare(&self, request: SpliceRequest) -> Result<Arc<Vec<Variant>>, Problem> {
        self.of(Work::light(of_splice("compare", &request, &())), move || desk::compare(&request)).await
    }

    /// Work of any other kind, under every text that it depends on.
    pub(crate) async fn other<T: Serialize + Send + Sync + 'static>(
        &self,
        task: &str,
        texts: &[&str],
        work: impl FnOnce() -> Result<T, Problem> + Send + 'static,
    ) -> Result<Arc<T>, Problem> {
        let texts: Vec<Text> = texts.iter().map(|text| Text::held("", text)).collect();
        self.of(Work::light(name(task, &(), texts.iter().map(Some))), work).await
    }

    async fn of<T: Send + Sync + 'static>(
        &self,
        Work { name, weigh, turns }: Work<T>,
        work: impl FnOnce() -> Result<T, Problem> + Send + 'static,
    ) -> Result<Arc<T>, Problem> {
        let made = async move || {
            let _turn = turns.acquire().await.map_err(|why| interrupted(&why))?;
            tokio::task::spawn_blocking(move || {
                let made = work();
                let weight = made.as_ref().map_or(256, weigh);
                (made.map(Arc::new), weight)
            })
            .await
            .map_err(|why| interrupted(&why))
        };
        let Some(name) = name else { return made().await?.0 };
        let cell = self.slot(name);
        if let Some(ready) = cell.get() {
            return typed(ready);
        }
        let answers = self.clone();
        // A task of its own, so that the work is finished when who asked has gone.
        let ready = tokio::spawn(async move {
            let init = async || {
                let (made, weight) = made().await?;
                // What the machine refused is tried again.
                if let Err(why) = &made
                    && why.fault == Fault::Disk
                {
                    return Err(why.clone());
                }
                answers.weigh(&name, weight);
                Ok::<Ready, Problem>(made.map(|answer| answer as Arc<dyn Any + Send + Sync>))
            };
            cell.get_or_try_init(init).await.cloned()
        });
        typed(&ready.await.map_err(|why| interrupted(&why))??)
    }

    fn slot(&self, name: Name) -> Arc<OnceCell<Ready>> {
        let mut shelf = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        shelf.turn += 1;
        let asked = shelf.turn;
        let held = shelf.held.entry(name).or_insert_with(|| Held { answer: Arc::default(), asked, weight: 0 });
        held.asked = asked;
        let answer = Arc::clone(&held.answer);
        shelf.make_room();
        answer
    }

    fn weigh(&self, name: &Name, weight: usize) {
        let mut shelf = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(held) = shelf.held.get_mut(name) {
            let before = std::mem::replace(&mut held.weight, weight);
            shelf.weight = shelf.weight + weight - before;
        }
        shelf.make_room();
    }
}

impl Shelf {
    fn make_room(&mut self) {
        while self.weight > self.most || self.held.len() > MOST_ANSWERS {
            let oldest = self.held.iter().min_by_key(|(_, held)| held.asked).map(|(name, _)| *name);
            let Some(gone) = oldest.and_then(|name| self.held.remove(&name)) else { return };
            self.weight -= gone.weight;
        }
    }
}

impl<T: Serialize> Work<T> {
    fn light(name: Option<Name>) -> Work<T> {
        Work { name, weigh: weight, turns: &AT_ONCE }
    }
}

fn typed<T: Send + Sync + 'static>(ready: &Ready) -> Result<Arc<T>, Problem> {
    let answer = Arc::clone(ready.as_ref().map_err(Problem::clone)?);
    // The task's word is part of the name, so that one name has one type.
    answer.downcast::<T>().map_err(|_| interrupted(&"one name was given to two answers"))
}

fn of_lines(task: &str, request: &LinesRequest, besides: &impl std::fmt::Debug) -> Option<Name> {
    let own = OwnSource { tests: None, measures: None, ..request.own.clone() };
    let bare = LinesRequest { order: Text::default(), ropes: None, own, ..request.clone() };
    let LinesRequest { order, ropes, own, .. } = request;
    name(task, &(bare, besides), [Some(order), ropes.as_ref(), own.tests.as_ref(), own.measures.as_ref()])
}

fn of_splice(task: &str, request: &SpliceRequest, besides: &impl std::fmt::Debug) -> Option<Name> {
    let bare = SpliceRequest { ropes: None, ..request.clone() };
    name(task, &(bare, besides), [request.ropes.as_ref()])
}

/// The digest of a task, of all that was asked besides texts, and of the
/// texts. What is asked is taken as its debug form, which shows every field,
/// also one that is added later. `None` where a text is a file on disk.
fn name<'a>(
    task: &str,
    asked: &impl std::fmt::Debug,
    texts: impl IntoIterator<Item = Option<&'a Text>>,
) -> Option<Name> {
    let mut digest = Sha256::new();
    let mut part = |bytes: &[u8]| {
        digest.update((bytes.len() as u64).to_be_bytes());
        digest.update(bytes);
    };
    part(task.as_bytes());
    part(format!("{asked:?}").as_bytes());
    for text in texts {
        match text {
            Some(Text::Held { name, bytes }) => {
                part(name.as_bytes());
                part(bytes);
            }
            Some(Text::File(_)) => return None,
            None => part(b"no text"),
        }
    }
    Some(digest.finalize().into())
}

/// What a value weighs as JSON, without the JSON.
fn weight<T: Serialize>(value: &T) -> usize {
    struct Scale(usize);
    impl Write for Scale {
        fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
            self.0 += bytes.len();
            Ok(bytes.len())
        }
        fn flush(&mut self) -> std::io::Result<()> {
            Ok(())
        }
    }
    let mut scale = Scale(0);
    // What cannot be JSON has no weight that could be known: it is not held for long.
    if serde_json::to_writer(&mut scale, value).is_err() { MOST } else { scale.0 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::atomic::{AtomicUsize, Ordering};
    use std::time::Duration;

    fn request(order: &str) -> LinesRequest {
        LinesRequest { order: Text::held("order", order), ..LinesRequest::default() }
    }

    /// Every part of a request makes another name, and the same request the same.
    #[test]
    fn what_an_answer_depends_on_is_in_its_name() {
        let base = request("becket = 1\n");
        let others = [
            request("becket = 1 \n"),
            LinesRequest { order: Text::held("order 2", "becket = 1\n"), ..base.clone() },
            LinesRequest { ropes: Some(Text::held("rope list", "")), ..base.clone() },
            LinesRequest { ropes: Some(Text::held("rope list", "name\n")), ..base.clone() },
            LinesRequest { name: Some("halyard".to_owned()), ..base.clone() },
            LinesRequest { units: Some(System::Us), ..base.clone() },
            LinesRequest { tenths: true, ..base.clone() },
            LinesRequest {
                own: OwnSource { tests: Some(Text::held("tests", "")), ..OwnSource::default() },
                ..base.clone()
            },
            LinesRequest {
                own: OwnSource { measures: Some(Text::held("tests", "")), ..OwnSource::default() },
                ..base.clone()
            },
        ];
        let mut names = vec![of_lines("lines", &base, &()), of_lines("pieces", &base, &())];
        names.push(of_lines("lines", &base, &WIDTHS_MM));
        names.extend(others.iter().map(|other| of_lines("lines", other, &())));
        assert!(names.iter().all(Option::is_some));
        let count = names.len();
        names.sort();
        names.dedup();
        assert_eq!(names.len(), count);
        assert_eq!(of_lines("lines", &base.clone(), &()), of_lines("lines", &base, &()));
        let on_disk = LinesRequest { order: Text::File("order.toml".into()), ..base };
        assert_eq!(of_lines("lines", &on_disk, &()), None);
    }

    #[tokio::test(flavor = "multi_thread", worker_threads = 4)]
    async fn who_asks_at_once_shares_one_piece_of_work() {
        let answers = Answers::default();
        let done = Arc::new(AtomicUsize::new(0));
        let asked: Vec<_> = (0..20)
            .map(|_| {
                let (answers, done) = (answers.clone(), Arc::clone(&done));
                tokio::spawn(async move {
                    let work = move || {
                        std::thread::sleep(Duration::from_millis(20));
                        Ok(done.fetch_add(1, Ordering::SeqCst))
                    };
                    answers.other("count", &["a"], work).await.expect("a count")
                })
            })
            .collect();
        for one in asked {
            assert_eq!(*one.await.expect("an answer"), 0);
        }
        assert_eq!(done.load(Ordering::SeqCst), 1);
    }

    #[tokio::test]
    async fn what_is_held_is_bounded_and_the_last_asked_for_stays() {
        let answers = Answers::of_weight(10_000);
        let text = || "x".repeat(1_000);
        for number in 0..100 {
            answers.other("first", &["kept"], move || Ok(text())).await.expect("text");
            answers.other("text", &[&number.to_string()], move || Ok(text())).await.expect("text");
            let shelf = answers.0.lock().expect("the shelf");
            assert!(shelf.weight <= 10_000, "{}", shelf.weight);
            assert_eq!(shelf.weight, shelf.held.values().map(|held| held.weight).sum::<usize>());
        }
        let again = answers.other("first", &["kept"], || Ok("worked out anew".to_owned())).await.expect("text");
        assert_eq!(again.len(), 1_000, "what is asked for again and again stays");
        let gone = answers.other("text", &["0"], || Ok("worked out anew".to_owned())).await.expect("text");
        assert_eq!(*gone, "worked out anew");
    }

    #[tokio::test]
    async fn a_refusal_is_held_and_an_interruption_is_not() {
        let answers = Answers::default();
        let refuse = || Err::<String, _>(crate::refusal::problem("no", "no", ""));
        assert_eq!(answers.other("a", &["x"], refuse).await.expect_err("refused").message, "no");
        let held = answers.other("a", &["x"], || Ok("never asked".to_owned())).await;
        assert_eq!(held.expect_err("still refused").message, "no");
        let lost = answers.other::<String>("b", &["x"], || std::panic::resume_unwind(Box::new("gone"))).await;
        assert_eq!(lost.expect_err("interrupted").code, "interrupted");
        let back = answers.other("b", &["x"], || Ok("here".to_owned())).await;
        assert_eq!(*back.expect("done anew"), "here");
    }
}
