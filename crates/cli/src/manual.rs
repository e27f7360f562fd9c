//! Completions and man pages, made from the same definition as the help.

use crate::arguments::Cli;
use clap::CommandFactory;
use desk::Problem;
use std::path::Path;

/// Completions for a shell.
pub fn completions(shell: clap_complete::Shell) -> Vec<u8> {
    let mut text = Vec::new();
    clap_complete::generate(shell, &mut Cli::command(), "becket", &mut text);
    text
}

/// Writes `becket.1` and a page for each command.
///
/// # Errors
/// When the folder cannot be written.
pub fn pages(folder: &Path) -> Result<(), Problem> {
    let command = Cli::command();
    let mut all = vec![("becket".to_owned(), command.clone())];
    all.extend(command.get_subcommands().map(|sub| (format!("becket-{}", sub.get_name()), sub.clone())));
    for (name, command) in all {
        let mut page = Vec::new();
        clap_mangen::Man::new(command)
            .title(name.clone())
            .render(&mut page)
            .map_err(|why| Problem::disk(&why.to_string()))?;
        desk::save(&folder.join(format!("{name}.1")), &page)?;
    }
    Ok(())
}
