//! The `assize` command.

/// Allocates in less time than the system does, from many threads.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> std::process::ExitCode {
    assize::run()
}
