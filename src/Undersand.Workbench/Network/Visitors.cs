using System.Security.Claims;

namespace Undersand.Workbench.Network;

/// <summary>Who asks, and what they may do now: a device that was forgotten may do nothing, also in a page that is still open.</summary>
internal sealed class Visitors(BoatNetwork? network)
{
    /// <summary>Whoever sits at the machine itself.</summary>
    public static ClaimsPrincipal Here { get; } = Named("here", "here");

    public static ClaimsPrincipal With(Pass pass) => Named("pass", pass.Id);

    /// <summary>One answer's worth of looking, for a program that sends a code with each question.</summary>
    public static ClaimsPrincipal Looking { get; } = Named("code", "code");

    /// <summary>What someone may do; null for nothing.</summary>
    public Role? RoleOf(ClaimsPrincipal user) => user.Identity?.AuthenticationType switch
    {
        "here" => Role.Run,
        "code" => Role.Look,
        "pass" => network?.Passes.RoleOf(user.Identity.Name!),
        _ => null,
    };

    public bool May(ClaimsPrincipal user, Role least) => RoleOf(user) >= least;

    // Tokens against forged forms are bound to a name, and refuse a visitor who has none.
    private static ClaimsPrincipal Named(string how, string name) => new(new ClaimsIdentity([new Claim(ClaimTypes.Name, name)], how));
}
