//! The corpus of trees beside the grammar, in the form that the tool of tree-sitter reads: each text gives the tree below it.

use super::reader::{folder, read};

/// A text and the tree that it must give.
struct Sample {
    title: String,
    text: String,
    tree: String,
}

/// A rule line of `sign`.
fn is_rule(line: &str, sign: char) -> bool {
    line.len() >= 3 && line.chars().all(|c| c == sign)
}

fn samples(file: &str) -> Vec<Sample> {
    let lines: Vec<&str> = file.lines().collect();
    let heads: Vec<usize> = (0..lines.len().saturating_sub(2))
        .filter(|at| is_rule(lines[*at], '=') && is_rule(lines[at + 2], '='))
        .collect();
    let ends = heads.iter().skip(1).copied().chain([lines.len()]);
    heads
        .iter()
        .zip(ends)
        .map(|(head, end)| {
            let body = &lines[head + 3..end];
            let rule = body.iter().position(|line| is_rule(line, '-')).expect("a rule before the tree");
            Sample {
                title: lines[head + 1].to_owned(),
                text: body[..rule].join("\n"),
                tree: body[rule + 1..].join(" ").split_whitespace().collect::<Vec<_>>().join(" "),
            }
        })
        .collect()
}

#[test]
fn every_sample_gives_its_tree() {
    let mut files: Vec<_> =
        std::fs::read_dir(folder().join("test/corpus")).expect("the corpus").flatten().collect();
    files.sort_by_key(std::fs::DirEntry::path);
    let mut count = 0;
    for file in files {
        let text = std::fs::read_to_string(file.path()).expect("a text");
        let samples = samples(&text);
        let texts: Vec<&str> = samples.iter().map(|sample| sample.text.as_str()).collect();
        for (sample, seen) in samples.iter().zip(read(&texts, &[], true)) {
            count += 1;
            let tree = sample.tree.replace("( ", "(").replace(" )", ")");
            assert_eq!(seen.tree, tree, "{}: {}", file.path().display(), sample.title);
        }
    }
    assert!(count >= 20, "only {count} samples");
}
