using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.AspNetCore.Components.Server.Circuits;

namespace Undersand.Workbench.Network;

/// <summary>Notes for each thing that a live page asks for who asks.</summary>
internal sealed class VisitorCircuit(Visitors visitors, AuthenticationStateProvider authentication) : CircuitHandler
{
    /// <inheritdoc/>
    public override Func<CircuitInboundActivityContext, Task> CreateInboundActivityHandler(Func<CircuitInboundActivityContext, Task> next) => async activity =>
    {
        visitors.Note((await authentication.GetAuthenticationStateAsync()).User);
        await next(activity);
    };
}
