"""What several rooms of the interface share: prompts, files, pages."""
