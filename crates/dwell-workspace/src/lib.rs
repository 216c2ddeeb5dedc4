//! Where text comes from: folders, ignore files and the files a file uses.
