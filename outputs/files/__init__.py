"""Writers: one finished sheet to one file, whole or not at all."""

__all__ = ["dxf", "proof", "svg", "whole"]
