"""The least change that makes a design pass on the colours it is wanted on."""
