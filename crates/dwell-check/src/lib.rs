//! Tree to card and findings: names, quantities, lowering, flow and rules.
