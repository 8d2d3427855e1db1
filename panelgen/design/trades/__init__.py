"""What later trades ask of panels: backing for what they will hang."""
