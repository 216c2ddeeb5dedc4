//! The extension in the extension host of Visual Studio Code; only `--long` installs it.

use super::{Bench, Tap, project, skipped};
use std::path::PathBuf;
use std::process::Command;

/// Builds the extension in a copy and runs its suite in the extension host.
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
    let bundle = ["src/extension.ts", "--bundle", "--platform=node", "--format=cjs", "--external:vscode"];
    for (tool, arguments) in [
        ("tsc", vec!["--noEmit"]),
        ("esbuild", [&bundle[..], &["--outfile=dist/extension.js", "--log-level=error"]].concat()),
    ] {
        let tool = home.join("node_modules/.bin").join(tool);
        let said = Command::new(&tool).args(arguments).current_dir(&copy).output().unwrap();
        assert!(
            said.status.success(),
            "{}{}",
            String::from_utf8_lossy(&said.stdout),
            String::from_utf8_lossy(&said.stderr)
        );
    }
    let own = |name: &str| project(&format!("tests/editors/vscode/{name}"));
    let said = Command::new("node")
        .args([own("run.js"), copy, own("suite.js"), own("look.dwell")])
        .env("DWELL_PROGRAM", tap.programs.join("dwell"))
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
