"""Several jobs on one engine as one visit: apart once, together once; and a season of visits."""
