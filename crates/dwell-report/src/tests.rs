//! URIs, fingerprints, columns and the text of XML, each against what its standard says.

mod forms;
mod uris;
