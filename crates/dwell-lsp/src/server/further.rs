//! All files that are known beside the one that is asked about, held while a question is answered.

use super::worker::Worker;
use crate::ide::Further;
use dwell_check::program::Content;
use std::sync::Arc;

/// Files with what is in them and what they use.
pub(crate) struct Files(Vec<(String, Arc<Content>, Vec<String>)>);

impl Files {
    /// Every file that is open or lies in an open folder.
    pub(crate) fn all(worker: &Worker) -> Files {
        let mut keys: Vec<&String> = worker.open.keys().chain(worker.known.keys()).collect();
        keys.sort();
        keys.dedup();
        let files = keys.into_iter().filter_map(|key| {
            let content = worker.shelf.content(key).ok()?;
            let uses = worker.shelf.uses(key, &content);
            Some((key.clone(), content, uses))
        });
        Files(files.collect())
    }

    /// As the abilities take them.
    pub(crate) fn further(&self) -> Vec<Further<'_>> {
        self.0.iter().map(|(path, content, uses)| Further { path, content, uses }).collect()
    }

    /// The path and the content of each.
    pub(crate) fn contents(&self) -> Vec<(&str, &Content)> {
        self.0.iter().map(|(path, content, _)| (path.as_str(), &**content)).collect()
    }
}
