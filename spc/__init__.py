"""The station for rolled parts: gauge values, die age and slide depth read together."""
