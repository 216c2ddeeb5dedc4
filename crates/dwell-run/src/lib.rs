//! One card executed step by step: a pure state machine.
