//! `completions` and `manual`: made from the same description as the command line itself.

use clap::CommandFactory;

use crate::cli::Cli;
use crate::out::{Done, Ending, Trouble, print_out};

/// Prints completions for a shell.
pub(crate) fn completions(shell: clap_complete::Shell) -> Done {
    let mut text = Vec::new();
    clap_complete::generate(shell, &mut Cli::command(), "standfast", &mut text);
    print_out(&text)?;
    Ok(Ending::Fine)
}

/// Prints the manual page: the overview and one part for each verb.
pub(crate) fn page() -> Done {
    let mut command = Cli::command();
    command.build();
    let mut text = Vec::new();
    let render = |c: clap::Command, text: &mut Vec<u8>| clap_mangen::Man::new(c).render(text);
    let failed = |e| Trouble::machine("output", format!("The manual page cannot be made: {e}."));
    render(command.clone(), &mut text).map_err(failed)?;
    for verb in command.get_subcommands().filter(|c| c.get_name() != "help") {
        let name = format!("standfast {}", verb.get_name());
        render(verb.clone().bin_name(name.clone()).display_name(name), &mut text).map_err(failed)?;
    }
    print_out(&text)?;
    Ok(Ending::Fine)
}
