//! Helix in a terminal of its own, driven by keys and read from its screen.

use super::{Desk, newer, project};
use std::path::Path;
use std::process::Command;
use std::time::{Duration, Instant};

/// A terminal that tmux holds, with Helix in it.
struct Screen<'a> {
    desk: &'a Desk,
    socket: String,
}

impl Screen<'_> {
    fn tmux(&self) -> Command {
        let mut command = self.desk.command(Path::new("tmux"));
        command.args(["-L", &self.socket, "-f", "/dev/null"]);
        command
    }

    fn shown(&self) -> String {
        let shown = self.tmux().args(["capture-pane", "-p", "-t", "helix"]).output().unwrap();
        String::from_utf8_lossy(&shown.stdout).into_owned()
    }

    fn wait(&self, what: &str, until: impl Fn(&str) -> bool) {
        let end = Instant::now() + Duration::from_secs(30);
        while !until(&self.shown()) {
            assert!(Instant::now() < end, "never: {what}\n{}", self.shown());
            std::thread::sleep(Duration::from_millis(50));
        }
    }

    fn keys(&self, keys: &[&str]) {
        for key in keys {
            assert!(self.tmux().args(["send-keys", "-t", "helix", key]).status().unwrap().success());
        }
    }

    fn types(&self, text: &str) {
        assert!(self.tmux().args(["send-keys", "-t", "helix", "-l", text]).status().unwrap().success());
    }
}

impl Drop for Screen<'_> {
    fn drop(&mut self) {
        let _ = self.tmux().arg("kill-server").output();
    }
}

#[test]
fn helix_with_what_a_user_copies() {
    let Some(program) = newer("hx") else { return };
    let desk = Desk::new();
    let copied = std::fs::read(project("editors/helix/languages.toml")).unwrap();
    desk.bench.put("home/helix/languages.toml", &copied);
    let screen = Screen { desk: &desk, socket: format!("dwell-{}", std::process::id()) };
    let mut begin = screen.tmux();
    begin.args(["new-session", "-d", "-s", "helix", "-x", "120", "-y", "30"]);
    begin.arg(format!("'{}' look.dwell", program.display()));
    assert!(begin.status().unwrap().success());
    // A mark before the line, and what was found where the cursor comes to it.
    screen.wait("the mark of a finding", |shown| shown.contains("●   5"));
    screen.keys(&["5", "g", "g", "f", "b"]);
    screen.wait("what was found", |shown| shown.contains("may still be out at the end"));
    // To the declaration, and what is known of it.
    screen.keys(&["g", "d"]);
    screen.wait("the declaration", |shown| shown.contains(" 2:6"));
    screen.keys(&["Space", "k"]);
    screen.wait("what is known of it", |shown| shown.contains("remove: fitted → out"));
    screen.keys(&["Escape", "Space", "r"]);
    screen.wait("a question for the new name", |shown| shown.contains("rename"));
    screen.keys(&["C-u"]);
    screen.types("belt-cover");
    screen.keys(&["Enter"]);
    screen.wait("the new name", |shown| shown.contains("remove belt-cover"));
    // Mended by hand: the mark goes away. Then set in order and written.
    screen.keys(&["6", "g", "g", "f", "{", "a"]);
    screen.types(" refit belt-cover");
    screen.keys(&["Escape"]);
    screen.wait("no mark", |shown| !shown.contains('●'));
    screen.types(":format");
    screen.keys(&["Enter"]);
    screen.wait("the text in order", |shown| shown.contains("{ refit belt-cover }"));
    screen.types(":write-quit");
    screen.keys(&["Enter"]);
    let written = || std::fs::read_to_string(desk.bench.path("work/look.dwell")).unwrap();
    screen.wait("its end", |_| written().contains("restore { refit belt-cover }"));
    assert!(written().contains("item belt-cover: removable \"belt guard °\"\n"));
    desk.tap.is_sound();
}
