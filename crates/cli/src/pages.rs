//! The pages served from this machine: `becket pages`.

use clap::{Args, ValueEnum};
use desk::Problem;
use std::io::BufRead;
use std::net::IpAddr;

/// Serving the pages.
#[derive(Debug, Args)]
pub struct PagesAsk {
    /// Where the records are kept: a file, or a postgres:// address.
    #[arg(long, default_value = "becket.db")]
    store: String,
    /// Address to listen on; beyond this machine users must sign in.
    #[arg(long, default_value = "127.0.0.1")]
    listen: IpAddr,
    /// Port; 0 takes any that is free.
    #[arg(long, default_value_t = 4310)]
    port: u16,
    /// A name under which this machine is asked for on the network.
    #[arg(long = "host")]
    hosts: Vec<String>,
    /// Add a user, or change one: the password is read from standard input.
    #[arg(long, value_name = "NAME")]
    add_user: Option<String>,
    /// What the user may do.
    #[arg(long, value_enum, default_value_t = RoleWord::Rigger, requires = "add_user")]
    role: RoleWord,
}

/// Roles.
#[derive(Debug, Clone, Copy, ValueEnum)]
enum RoleWord {
    /// Works, adds users, changes the loft's rules.
    Owner,
    /// Works.
    Rigger,
    /// Looks.
    Reader,
}

impl PagesAsk {
    /// Serves the pages, or adds the user; `say` prints a line of data.
    pub fn run(&self, say: impl FnOnce(&str)) -> Result<(), Problem> {
        if let Some(name) = &self.add_user {
            let role = match self.role {
                RoleWord::Owner => web::Role::Owner,
                RoleWord::Rigger => web::Role::Rigger,
                RoleWord::Reader => web::Role::Reader,
            };
            let mut password = String::new();
            let read = std::io::stdin().lock().read_line(&mut password);
            read.map_err(|why| Problem::disk(&format!("the password could not be read: {why}")))?;
            web::add_user(&self.store, name, role, password.trim_end_matches(['\r', '\n']))?;
            say(&format!("{name} may sign in as {}", role.word()));
            return Ok(());
        }
        let options = web::Options {
            store: self.store.clone(),
            listen: self.listen,
            port: self.port,
            hosts: self.hosts.clone(),
            ..web::Options::default()
        };
        web::serve(&options, say)
    }
}
