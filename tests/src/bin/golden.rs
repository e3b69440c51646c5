//! Prints the golden vectors as this program writes them: `golden entries` or `golden messages`.

#![expect(clippy::print_stdout, reason = "its output is what it is for")]

use tests::golden;

fn main() {
    match std::env::args().nth(1).as_deref() {
        Some("entries") => print!("{}", golden::entries_text()),
        Some("messages") => print!("{}", golden::messages_text()),
        _ => {
            println!("golden entries | golden messages");
            std::process::exit(2);
        }
    }
}
