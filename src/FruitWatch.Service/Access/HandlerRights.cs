using System.Reflection;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.Filters;

namespace FruitWatch.Service.Access;

/// <summary>The right that a form of a page asks for, beside the page's own; on the method that takes the form.</summary>
[AttributeUsage(AttributeTargets.Method)]
internal sealed class AsksAttribute(Right right) : Attribute
{
    public Right Right => right;
}

/// <summary>Holds forms to their <see cref="AsksAttribute"/>. A form that names no right is taken from nobody, but on pages that are for everybody.</summary>
internal sealed class HandlerRights(Visitor visitor) : IAsyncPageFilter
{
    public Task OnPageHandlerSelectionAsync(PageHandlerSelectedContext context) => Task.CompletedTask;

    public async Task OnPageHandlerExecutionAsync(PageHandlerExecutingContext context, PageHandlerExecutionDelegate next)
    {
        var method = context.HandlerMethod?.MethodInfo;
        var read = context.HandlerMethod is null || HttpMethods.IsGet(context.HandlerMethod.HttpMethod) || HttpMethods.IsHead(context.HandlerMethod.HttpMethod);
        if (read || context.ActionDescriptor.EndpointMetadata.OfType<IAllowAnonymous>().Any()
            || (method!.GetCustomAttribute<AsksAttribute>() is { } asks && visitor.May(asks.Right)))
        {
            await next();
            return;
        }

        context.Result = new StatusCodeResult(StatusCodes.Status403Forbidden);
    }
}
