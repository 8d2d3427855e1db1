"""What a person looks at when reviewing: findings by cause, each with its place in words and in pictures."""
