//! The extension in the extension host of Visual Studio Code; only `--long` installs it.

use super::{Bench, Tap, project, skipped};
use std::path::PathBuf;
use std::process::Command;

/// Packs the extension in a copy, installs it, and runs its suite in the extension host.
#[cfg(unix)]
#[test]
fn visual_studio_code_with_the_extension() {
    let Some(home) = std::env::var_os("DWELL_VSCODE").map(PathBuf::from) else {
        return skipped("only `tests/run --long` installs Visual Studio Code");
    };
    let bench = Bench::new(&[]);
    let tap = Tap::of(&bench);
    let copy = bench.path("extension");
    let mut copied = Command::new("cp");
    copied.arg("-r").arg(project("editors/vscode")).arg(&copy);
    assert!(copied.status().unwrap().success());
    let _ = std::fs::remove_dir_all(copy.join("node_modules"));
    let _ = std::fs::remove_file(copy.join("node_modules"));
    std::os::unix::fs::symlink(home.join("node_modules"), copy.join("node_modules")).unwrap();
    // The program that is packed is the tap, so that the messages of the installed extension are recorded.
    let machine = if cfg!(target_arch = "aarch64") { "linux-arm64" } else { "linux-x64" };
    let packed = bench.path("packed");
    std::fs::create_dir_all(&packed).unwrap();
    std::fs::copy(tap.programs.join("dwell"), packed.join(format!("dwell-{machine}"))).unwrap();
    let tools = std::iter::once(home.join("node_modules/.bin"));
    let path = std::env::var_os("PATH").unwrap();
    let path = std::env::join_paths(tools.chain(std::env::split_paths(&path))).unwrap();
    let said =
        Command::new("node").arg(copy.join("pack.mjs")).arg(&packed).env("PATH", path).output().unwrap();
    assert!(said.status.success(), "{}", String::from_utf8_lossy(&said.stderr));
    let own = |name: &str| project(&format!("tests/editors/vscode/{name}"));
    let said = Command::new("node")
        .args([
            own("run.js"),
            packed.join(format!("dwell-{machine}.vsix")),
            own("suite.js"),
            own("look.dwell"),
        ])
        .env("DWELL_VSCODE", home)
        .output()
        .unwrap();
    let out = String::from_utf8_lossy(&said.stdout);
    assert!(
        said.status.success() && out.contains(" 0 failed"),
        "{out}{}",
        String::from_utf8_lossy(&said.stderr)
    );
    tap.is_sound();
}
