"""What a kind of station can be asked, and what each answer means."""
