using Undersand.Imaging.Focusing;

namespace Undersand.Tests.Imaging.Focusing;

/// <summary>Every way the sum can be done.</summary>
public enum EngineKind
{
    Plain,
    Scalar,
    Wide256,
    Wide512,
}
