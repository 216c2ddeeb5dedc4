//! The job files for forges and the hooks: read as YAML, and what they run is run in a repository, once well and once with a fault.

use super::bench::{Bench, DWELL, GOOD, faulty};
use super::reporting::python;
use serde_json::Value;
use std::fs;
use std::process::{Command, Stdio};

/// A YAML file as JSON.
fn yaml(path: &str) -> Value {
    let text = fs::read_to_string(crate::root().join(path)).unwrap();
    let program = "import sys, json, yaml; print(json.dumps(yaml.safe_load(sys.stdin.buffer.read())))";
    serde_json::from_str(&python(program, &text)).unwrap()
}

/// A repository with a branch that the change is compared with, and the change on the disk.
fn changed(text: &str) -> Bench {
    let bench = Bench::committed(&[("belt.dwell", GOOD)]);
    bench.git(&["update-ref", "refs/remotes/origin/main", "HEAD"]);
    bench.put("belt.dwell", text.as_bytes());
    bench.commit();
    bench
}

/// Runs a script as the forges do, with the built program on the path; gives the status and what was said.
fn script(bench: &Bench, script: &str) -> (i32, String) {
    let folder = DWELL.parent().unwrap().to_str().unwrap();
    let path = format!("{folder}:{}", std::env::var("PATH").unwrap());
    let mut command = Command::new("bash");
    command.args(["-e", "-o", "pipefail", "-c", script]).stdin(Stdio::null());
    let output = bench
        .isolated(command)
        .env("PATH", path)
        .env("GITHUB_BASE_REF", "main")
        .env("GITHUB_STEP_SUMMARY", bench.path("summary.md"))
        .env("CI_MERGE_REQUEST_DIFF_BASE_SHA", "origin/main")
        .output()
        .unwrap();
    let said =
        format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr));
    (output.status.code().unwrap(), said)
}

/// What the steps of a workflow run, without the one that fetches the program.
fn steps(workflow: &Value) -> Vec<String> {
    let steps = workflow["jobs"]["check"]["steps"].as_array().unwrap();
    let own = steps.iter().filter(|step| step["name"] != "Install dwell");
    own.filter_map(|step| step["run"].as_str().map(str::to_owned)).collect()
}

#[test]
fn the_workflows_find_a_fault_and_say_what_the_change_means() {
    for path in ["forges/github.yml", "forges/forgejo.yml"] {
        let steps = steps(&yaml(path));
        assert_eq!(steps.len(), 2, "{path}");
        let well = changed(&GOOD.replace("Look at the tensioner.", "Look at the tensioner!"));
        for step in &steps {
            let (status, said) = script(&well, step);
            assert_eq!(status, 0, "{path}: {step}: {said}");
        }
        let wrong = changed(&faulty());
        let said: Vec<(i32, String)> = steps.iter().map(|step| script(&wrong, step)).collect();
        assert_eq!((said[0].0, said[1].0), (1, 0), "{path}: {said:?}");
        let meaning = match path {
            "forges/github.yml" => {
                let log: Value = serde_json::from_str(&wrong.get("dwell.sarif")).unwrap();
                assert_eq!(log["runs"][0]["results"][0]["ruleId"], "not-restored");
                wrong.get("summary.md")
            }
            _ => said[1].1.clone(),
        };
        assert!(meaning.contains("Refit the belt guard."), "{path}: {meaning}");
    }
}

#[test]
fn the_job_of_gitlab_keeps_its_reports() {
    let job = yaml("forges/gitlab.yml")["procedures"].clone();
    let lines: Vec<&str> =
        job["script"].as_array().unwrap().iter().map(|line| line.as_str().unwrap()).collect();
    let all = lines.join("\n");
    for (text, wanted) in [(GOOD.to_owned(), 0), (faulty(), 1)] {
        let bench = changed(&text);
        let (status, said) = script(&bench, &all);
        assert_eq!(status, wanted, "{said}");
        assert!(bench.get(job["artifacts"]["reports"]["junit"].as_str().unwrap()).contains("<testsuites"));
        assert!(
            bench
                .get(job["artifacts"]["paths"][0].as_str().unwrap())
                .starts_with("## What this change means")
        );
    }
}

#[test]
fn the_script_ends_as_the_check_does() {
    let own = crate::root().join("forges/check.sh");
    for (text, arguments, wanted) in
        [(GOOD, "origin/main", 0), (&faulty(), "origin/main", 1), (GOOD, "no-such", 2)]
    {
        let (status, said) = script(&changed(text), &format!("{} {arguments}", own.display()));
        assert_eq!(status, wanted, "{arguments}: {said}");
    }
}

#[test]
fn the_hooks_run() {
    let hooks = yaml(".pre-commit-hooks.yaml");
    let hooks = hooks.as_array().unwrap();
    assert_eq!(hooks.len(), 3);
    for hook in hooks {
        // What the program pre-commit asks of a hook.
        for member in ["id", "name", "entry", "language", "files"] {
            assert!(hook[member].is_string(), "{member} of {hook}");
        }
        let entry = hook["entry"].as_str().unwrap();
        let files = if hook["pass_filenames"] == false { "" } else { " belt.dwell" };
        let (status, said) = script(&changed(GOOD), &format!("{entry}{files}"));
        assert_eq!(status, 0, "{entry}: {said}");
        let bench = changed(GOOD);
        bench.put("belt.dwell", faulty().as_bytes());
        let (status, said) = script(&bench, &format!("{entry}{files}"));
        assert_eq!(status, i32::from(entry.contains("check")), "{entry}: {said}");
    }
}

/// The program pre-commit itself, fetched from its registry: only in the long run.
#[test]
fn pre_commit_takes_the_hooks() {
    if std::env::var_os("DWELL_TESTS_LONG").is_none() {
        return;
    }
    let bench = changed(&faulty());
    let hooks = fs::read_to_string(crate::root().join(".pre-commit-hooks.yaml")).unwrap();
    let config = hooks.lines().map(|line| format!("  {line}\n")).collect::<String>();
    bench.put(".pre-commit-config.yaml", format!("repos:\n- repo: local\n  hooks:\n{config}").as_bytes());
    bench.commit();
    let (status, said) = script(&bench, "python3 -m pre_commit run --all-files dwell-check");
    assert!(status == 1 && said.contains("not-restored"), "{said}");
}
