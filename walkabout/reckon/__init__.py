"""The reckonings: what can be worked out, what each takes, and its working step by step."""
