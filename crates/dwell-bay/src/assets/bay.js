// What the pages do beside what forms and links do of themselves.
