"""What the team answers in theatre, and where the new lens may go then."""
