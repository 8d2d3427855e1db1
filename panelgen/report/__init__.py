"""What a designed and checked house says about itself, as text for people and records for programs."""
