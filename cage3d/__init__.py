"""Works out how a cage petticoat will hang, and gives its 3D model, miniature and making sheets."""

__version__ = "0.1.0"
