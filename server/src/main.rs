//! The `lugbook` program.

fn main() -> std::process::ExitCode {
    server::cli::main()
}
