using Microsoft.AspNetCore.Authorization;

namespace FruitWatch.Service.Access;

/// <summary>The right that a page or an operation asks for.</summary>
[AttributeUsage(AttributeTargets.Class | AttributeTargets.Method)]
internal sealed class RightAttribute(Right right) : AuthorizeAttribute, IAuthorizationRequirement, IAuthorizationRequirementData
{
    public Right Right => right;

    public IEnumerable<IAuthorizationRequirement> GetRequirements() => [this];
}

/// <summary>Grants what the visitor may.</summary>
internal sealed class RightHandler(IHttpContextAccessor http) : AuthorizationHandler<RightAttribute>
{
    protected override Task HandleRequirementAsync(AuthorizationHandlerContext context, RightAttribute requirement)
    {
        if (http.HttpContext?.RequestServices.GetRequiredService<Visitor>().May(requirement.Right) == true)
            context.Succeed(requirement);
        return Task.CompletedTask;
    }
}
