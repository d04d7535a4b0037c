using NodaTime;

namespace Undersand.Workbench.Network;

/// <summary>A device that is paired.</summary>
/// <param name="Id">Names it; nothing that lets anyone in.</param>
/// <param name="Proof">SHA-256 of the secret that the device keeps, in hexadecimal digits.</param>
/// <param name="Role">What may be done from it.</param>
/// <param name="Who">Whose it is, as they said.</param>
/// <param name="Since">When it was paired.</param>
internal sealed record Pass(string Id, string Proof, Role Role, string Who, Instant Since);
