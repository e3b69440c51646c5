//! The server under another name: tests find it as a binary of their own package, and kill it.

fn main() -> std::process::ExitCode {
    server::cli::main()
}
