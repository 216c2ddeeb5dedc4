//! Every suite of the whole, in one test binary.

#[cfg(test)]
mod bay;
#[cfg(test)]
mod broken;
#[cfg(test)]
mod choosing;
#[cfg(test)]
mod crash;
#[cfg(test)]
mod dependencies;
#[cfg(test)]
mod editors;
#[cfg(test)]
mod grammars;
#[cfg(test)]
mod hostile;
#[cfg(test)]
mod library;
#[cfg(test)]
mod meaning;
#[cfg(test)]
mod mending;
#[cfg(test)]
mod merle;
#[cfg(test)]
mod mutation;
#[cfg(test)]
mod one;
#[cfg(test)]
mod outside;
#[cfg(test)]
mod page;
#[cfg(test)]
mod program;
#[cfg(test)]
mod records;
#[cfg(test)]
mod recovery;
#[cfg(test)]
mod reference;
#[cfg(test)]
mod server;
#[cfg(test)]
mod soundness;
#[cfg(test)]
mod spoken;
#[cfg(test)]
mod stages;
#[cfg(test)]
mod terminal;
#[cfg(test)]
mod tidy;

/// The top folder of the project.
#[cfg(test)]
fn root() -> std::path::PathBuf {
    std::path::Path::new(env!("CARGO_MANIFEST_DIR"))
        .parent()
        .map(std::path::Path::to_path_buf)
        .unwrap_or_default()
}
