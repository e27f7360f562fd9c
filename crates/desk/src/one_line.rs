//! One line of an order, found by its name.

use crate::job::{Opened, Prepared, prepare, same};
use crate::problem::{Fault, Problem};
use files::{LineRecord, Placed};

impl Opened {
    /// The line of a name, capitals and spaces or not.
    pub(crate) fn line(&self, name: &str) -> Result<&Placed<LineRecord>, Problem> {
        self.order.line.iter().find(|line| same(&line.value.name.value) == same(name)).ok_or_else(|| {
            let names: Vec<&str> = self.order.line.iter().map(|line| line.value.name.value.as_str()).collect();
            Problem::new(Fault::Request, "no-such-line", format!("no line is called {name:?}"))
                .hint(format!("one of: {}", names.join(", ")))
        })
    }

    /// Its load, lead and length.
    pub(crate) fn prepared(&self, line: &Placed<LineRecord>) -> Result<Prepared, Problem> {
        let ropes: Vec<_> = self.ropes.iter().map(|listed| listed.rope.clone()).collect();
        prepare(&self.sweep, line, &ropes).map_err(|problem| self.input.problem(&[*problem]))
    }
}
