namespace FruitWatch.Service.Web;

/// <summary>What the description of the API cannot see in the code.</summary>
internal static class Endpoints
{
    /// <summary>Refusals that an operation gives, beside those of its body.</summary>
    public static T Refusing<T>(this T operation, params int[] statuses)
        where T : IEndpointConventionBuilder
    {
        foreach (var status in statuses)
            operation.WithMetadata(new ProducesResponseTypeMetadata(status, typeof(Problem), ["application/problem+json"]));
        return operation;
    }

    /// <summary>An operation whose answer carries an ETag, and is spared a reader who has it.</summary>
    public static RouteHandlerBuilder GivingVersion(this RouteHandlerBuilder operation) =>
        operation.Produces(StatusCodes.Status304NotModified);

    /// <summary>A change that has to name the version it is meant for, see <see cref="ETags.Refuses"/>.</summary>
    public static RouteHandlerBuilder NeedingVersion(this RouteHandlerBuilder operation) =>
        operation.WithMetadata(new NeedsVersionMetadata()).Refusing(412, 428);

    /// <summary>What a good answer holds, where the handler's type does not say it.</summary>
    public static RouteHandlerBuilder Giving<T>(this RouteHandlerBuilder operation, params string[] forms) =>
        operation.WithMetadata(new ProducesResponseTypeMetadata(
            StatusCodes.Status200OK, typeof(T), forms.Length > 0 ? forms : ["application/json"]));
}

/// <summary>Says that an operation asks for If-Match.</summary>
internal sealed class NeedsVersionMetadata;
