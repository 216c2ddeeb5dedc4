//! All files that are known beside the one that is asked about, held while a question is answered.

use super::state::State;
use crate::ide::Further;
use dwell_check::program::Content;
use rayon::iter::{IntoParallelIterator, ParallelIterator};
use std::sync::Arc;

/// Files with what is in them and what they use.
pub(crate) struct Files(Vec<(String, Arc<Content>, Vec<String>)>);

impl Files {
    /// Every file that is open or lies in an open folder.
    pub(crate) fn all(state: &State) -> Files {
        let files = state.known().into_par_iter().filter_map(|key| {
            let content = state.shelf.glance(key)?;
            let uses = state.shelf.uses(key, &content);
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
