//! What happened at the vehicle: events, their format, and the report.
